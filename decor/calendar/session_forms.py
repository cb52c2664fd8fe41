from typing import Any

from django import forms
from django.urls import reverse

from decor.crew.forms import HoursField
from decor.form_layout import form_helper
from decor.jobs.days import DayInput
from decor.models import Job, MakingSession

MORE_THAN_NOTHING = "More than no time, please."


class SessionForm(forms.Form):
    on = forms.DateField(label="Day", widget=DayInput)
    minutes = HoursField(label="Hours", help_text="Of one person: two for an hour are two hours.")

    def __init__(
        self, *args: Any, job: Job, session: MakingSession | None = None, **kwargs: Any
    ) -> None:
        given = {"on": session.on, "minutes": session.minutes} if session else {}
        super().__init__(*args, initial=given, **kwargs)
        self.keep = f"bench-{session.pk}" if session else f"bench-new-{job.pk}"
        self.helper = form_helper(
            "on",
            "minutes",
            submit="Save the hours" if session else "Plan the hours",
            keep=self.keep,
            back_url=f"{reverse('job_detail', args=[job.pk])}#bench",
        )

    def clean_minutes(self) -> int:
        if not self.cleaned_data["minutes"]:
            raise forms.ValidationError(MORE_THAN_NOTHING)
        return self.cleaned_data["minutes"]
