from datetime import date
from typing import Any

from django import forms

from decor.form_layout import form_helper
from decor.jobs.days import DayInput
from decor.models import Job
from inventory.kit.service import KitRefused, kit_free, kit_save
from inventory.models import Kit

ENDS_BEFORE_IT_BEGINS = "It cannot come back before it goes out."


class KitForm(forms.ModelForm):
    class Meta:
        model = Kit
        fields = ["name", "kind", "count", "turnaround_days", "note"]
        labels = {
            "name": "What is it?",
            "count": "How many are there?",
            "turnaround_days": "Days of rest after a job",
        }
        help_texts = {
            "name": "Such as “Ring stand, 7 ft”.",
            "turnaround_days": "To fetch, clean and mend it before it can go out again.",
        }

    def __init__(self, *args: Any, today: date, keep: str, back_url: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.today = today
        submit = "Save" if self.instance.pk else "Add it"
        self.helper = form_helper(*self.Meta.fields, submit=submit, keep=keep, back_url=back_url)

    def clean_count(self) -> int:
        count = self.cleaned_data["count"]
        if count < 1:
            raise forms.ValidationError("One at least.")
        return count

    def save_kit(self) -> bool:
        """False where it was refused; the reason is beside its field then."""
        try:
            kit_save(kit=self.instance, today=self.today)
        except KitRefused as refused:
            self.add_error("count", str(refused))
            return False
        return True


class KitHoldForm(forms.Form):
    """Kit for a job: which, how many, from the day of setting up to that of taking down."""

    kit = forms.ModelChoiceField(queryset=Kit.objects.none(), label="Which kit?", empty_label=None)
    quantity = forms.IntegerField(label="How many?", min_value=1, max_value=999, initial=1)
    from_on = forms.DateField(label="Set up on", widget=DayInput())
    until_on = forms.DateField(label="Taken down on", widget=DayInput())

    def __init__(self, *args: Any, job: Job, today: date, **kwargs: Any) -> None:
        day = job.event_on or today
        super().__init__(*args, initial={"from_on": day, "until_on": day}, **kwargs)
        self.fields["kit"].queryset = Kit.objects.filter(archived_at=None)
        free = {one.kit.pk: one for one in kit_free(from_on=day, until_on=day, but_for=job)}
        self.fields["kit"].label_from_instance = lambda kit: (
            f"{kit.name} ({free[kit.pk].free} of {kit.count} free that day)"
        )

    def clean(self) -> None:
        said = self.cleaned_data
        if said.get("from_on") and said.get("until_on") and said["until_on"] < said["from_on"]:
            self.add_error("until_on", ENDS_BEFORE_IT_BEGINS)
