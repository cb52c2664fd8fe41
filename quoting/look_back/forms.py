from datetime import date
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils import timezone

from decor.display import date_text
from decor.jobs.days import DayInput
from decor.models import Job, Visit
from decor.models.visit import VisitKind
from quoting.estimator.rates import PHASES
from quoting.look_back.comparing import Compared
from quoting.models import LookBack
from quoting.models.making import MOST_MINUTES, MOST_PEOPLE

MOST_CLUSTERS = 5000
NOT_COME = "That day has not come yet."


class LookBackForm(forms.Form):
    """What was said, and what the sheets cannot know."""

    client_said = forms.CharField(
        required=False,
        max_length=2000,
        label="What the client said",
        widget=forms.Textarea(attrs={"rows": 3}),
    )
    note = forms.CharField(
        required=False,
        max_length=2000,
        label="What to do differently next time",
        widget=forms.Textarea(attrs={"rows": 3}),
    )
    left_out = forms.MultipleChoiceField(
        required=False,
        label="Hours that say nothing of other jobs",
        help_text="Tick what went unusually: the car broke down, somebody was new. "
        "It stays in this look-back and is not learned from.",
        widget=forms.CheckboxSelectMultiple,
    )

    def __init__(self, *args: Any, kept: LookBack | None, compared: Compared, **kwargs: Any):
        if kept is not None:
            kwargs.setdefault("initial", {}).update(
                client_said=kept.client_said, note=kept.note, left_out=kept.left_out
            )
        super().__init__(*args, **kwargs)
        phases = [row.phase for row in compared.phases]
        self.fields["left_out"].choices = [(phase, phase.capitalize()) for phase in phases]
        self._cluster_fields(kept, compared)

    def _cluster_fields(self, kept: LookBack | None, compared: Compared) -> None:
        hung = kept.clusters_hung if kept else {}
        for piece in compared.planned.plan.pieces:
            planned = piece.estimate.make.cluster_count
            self.fields[f"clusters_{piece.pk}"] = forms.IntegerField(
                required=False,
                min_value=1,
                max_value=MOST_CLUSTERS,
                label=f"Clusters hung: {piece.title}",
                help_text=f"{planned} were planned. Empty: as planned.",
                initial=hung.get(str(piece.pk)),
            )

    def cluster_fields(self) -> list[forms.BoundField]:
        return [self[name] for name in self.fields if name.startswith("clusters_")]

    def clusters_hung(self) -> dict[str, int]:
        return {
            name.removeprefix("clusters_"): count
            for name, count in self.cleaned_data.items()
            if name.startswith("clusters_") and count is not None
        }


class HoursForm(forms.Form):
    phase = forms.ChoiceField(
        choices=[(phase, phase.capitalize()) for phase in PHASES], label="Work"
    )
    on = forms.DateField(widget=DayInput(), label="Day")
    hours = forms.IntegerField(required=False, min_value=0, max_value=24, label="Hours")
    minutes = forms.IntegerField(required=False, min_value=0, max_value=59, label="Minutes")
    people = forms.IntegerField(min_value=1, max_value=MOST_PEOPLE, initial=1, label="People")
    revisit = forms.ModelChoiceField(
        Visit.objects.none(), required=False, label="On a revisit", empty_label="No"
    )

    def __init__(self, *args: Any, job: Job, today: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.today = today
        self.fields["on"].initial = today
        revisits = job.visits.filter(kind=VisitKind.REVISIT, called_off_at=None)
        self.fields["revisit"].queryset = revisits
        self.fields["revisit"].label_from_instance = _day_of
        if not revisits.exists():
            del self.fields["revisit"]

    def clean_on(self) -> date:
        on = self.cleaned_data["on"]
        if on > self.today:
            raise ValidationError(NOT_COME, code="future")
        return on

    def clean(self) -> None:
        hours = self.cleaned_data.get("hours") or 0
        minutes = self.cleaned_data.get("minutes") or 0
        worked = hours * 60 + minutes
        if not self.errors and worked == 0:
            self.add_error("hours", "Say how long it took.")
        if worked > MOST_MINUTES:
            most = MOST_MINUTES // 60
            self.add_error("hours", f"At most {most} hours in a day: type each day by itself.")
        self.cleaned_data["worked"] = worked


def _day_of(visit: Visit) -> str:
    return date_text(timezone.localdate(visit.starts_at))
