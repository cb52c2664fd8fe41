from datetime import date, datetime, time, timedelta
from typing import Any

from crispy_forms.layout import Div, Layout
from django import forms
from django.core.exceptions import ValidationError
from django.urls import reverse
from django.utils import timezone

from decor.business.service import the_business
from decor.calendar.driving import Basis, minutes_to
from decor.calendar.moments import NoSuchTime, TimeComesTwice, moment_of, moments_of
from decor.calendar.visits import install_window
from decor.crew.service import crew_at_work
from decor.form_layout import form_helper
from decor.jobs.days import DayInput, TimeInput
from decor.models import CrewMember, Job, Visit
from decor.models.visit import VisitKind

DAY = timedelta(days=1)
# Longer than this, an end before the beginning is a slip and not the next morning.
PAST_MIDNIGHT = timedelta(hours=12)
A_USUAL_INSTALL = 120  # minutes, where nothing is known yet
MOST_PEOPLE = 50
LONGEST_DRIVE = 72 * 60
ENDS_FIRST = "It ends before it begins. Up to 12 hours past midnight is understood."
ASK_WHY = "Choose another time, or say why it can stand."
FIRST_TIME, SECOND_TIME = "first", "second"
WHICH = ((FIRST_TIME, "The first, before the clocks go back"), (SECOND_TIME, "The second, after"))


class VisitForm(forms.Form):
    """Times are typed as the business's clock shows them. `starts_at` and `ends_at` in the cleaned
    data are moments; `second_time` and `overruled_reason` are asked only where they are needed."""

    on = forms.DateField(label="Day", widget=DayInput)
    begins = forms.TimeField(label="From", widget=TimeInput)
    ends = forms.TimeField(label="Until", widget=TimeInput, help_text="At the place, drives apart.")
    second_time = forms.ChoiceField(
        label="Which of the two", choices=WHICH, required=False, widget=forms.RadioSelect
    )
    people = forms.IntegerField(label="How many people", min_value=1, max_value=MOST_PEOPLE)
    crew = forms.ModelMultipleChoiceField(
        label="Who goes",
        queryset=CrewMember.objects.none(),
        required=False,
        widget=forms.CheckboxSelectMultiple,
        help_text="Tick nobody where it does not matter who.",
    )
    travel_minutes = forms.IntegerField(
        label="Minutes to drive there", min_value=0, max_value=LONGEST_DRIVE, required=False
    )
    note = forms.CharField(max_length=300, required=False)
    overruled_reason = forms.CharField(
        label="Let it stand because",
        max_length=300,
        required=False,
        help_text="Kept with the visit, and shown beside the clash.",
    )

    def __init__(
        self, *args: Any, job: Job, kind: VisitKind, visit: Visit | None = None, **kwargs: Any
    ) -> None:
        given = _as_it_is(visit) if visit else _as_it_might_be(job, kind)
        super().__init__(*args, initial={**given, **kwargs.pop("initial", {})}, **kwargs)
        self.fields["crew"].queryset = CrewMember.objects.filter(
            pk__in=[member.pk for member in crew_at_work()]
        )
        self.fields["travel_minutes"].help_text = _drive_help(job)
        self.keep = f"visit-{visit.pk}" if visit else f"visit-new-{job.pk}-{kind}"
        self.submit = "Save the visit" if visit else f"Plan the {VisitKind(kind).label.lower()}"
        self.back_url = reverse("job_detail", args=[job.pk])
        self.is_twice, self.problems = False, ()

    @property
    def helper(self) -> Any:
        """As late as this, because what was refused decides what is asked."""
        layout = self._layout()
        return form_helper(*layout, submit=self.submit, keep=self.keep, back_url=self.back_url)

    def _layout(self) -> Layout:
        return Layout(
            *(["overruled_reason"] if self._asks_why else []),
            "on",
            Div(
                Div("begins", css_class="col-6"),
                Div("ends", css_class="col-6"),
                css_class="row g-2",
            ),
            *(["second_time"] if self._asks_which else []),
            "people",
            *(["crew"] if self.fields["crew"].queryset.count() > 1 else []),
            "travel_minutes",
            "note",
        )

    @property
    def _asks_why(self) -> bool:
        return bool(self.problems) or "overruled_reason" in self.data

    @property
    def _asks_which(self) -> bool:
        return self.is_twice or bool(self.data.get("second_time"))

    def clean(self) -> dict[str, Any]:
        said = super().clean()
        if all(said.get(name) is not None for name in ("on", "begins", "ends")):
            self._clean_times(said)
        return said

    def _clean_times(self, said: dict[str, Any]) -> None:
        on, begins, ends = said["on"], said["begins"], said["ends"]
        ends_on = on if ends > begins else on + DAY
        starts_at = self._moment("begins", on, begins)
        ends_at = starts_at and self._end(starts_at, ends_on, ends)
        if ends_at is None:
            return
        if ends_on != on and ends_at - starts_at > PAST_MIDNIGHT:
            self.add_error("ends", ENDS_FIRST)
        said["starts_at"], said["ends_at"] = starts_at, ends_at

    def _moment(self, field: str, on: date, at: time) -> datetime | None:
        which = {FIRST_TIME: False, SECOND_TIME: True}.get(self.cleaned_data.get("second_time"))
        try:
            return moment_of(on, at, timezone.get_current_timezone(), second_time=which)
        except NoSuchTime as refused:
            self.add_error(field, str(refused))
        except TimeComesTwice as refused:
            self.is_twice = self.fields["second_time"].required = True
            self.add_error("second_time", str(refused))
        return None

    def _end(self, starts_at: datetime, on: date, at: time) -> datetime | None:
        """Of two of the same name, the first after the beginning."""
        found = moments_of(on, at, timezone.get_current_timezone())
        later = [moment for moment in found if moment > starts_at]
        return later[0] if later else self._moment("ends", on, at)

    def clash(self, problems: tuple[str, ...]) -> None:
        """Said at the top; from now on the form asks for a reason too."""
        self.problems = problems
        self.add_error(None, ValidationError(list(problems)))
        self.add_error("overruled_reason", ASK_WHY)
        self.fields["overruled_reason"].required = True


def _as_it_is(visit: Visit) -> dict[str, Any]:
    starts, ends = timezone.localtime(visit.starts_at), timezone.localtime(visit.ends_at)
    is_second = bool(starts.fold)
    return {
        "on": starts.date(),
        "begins": starts.time(),
        "ends": ends.time(),
        "second_time": SECOND_TIME if is_second else "",
        "people": visit.people,
        "crew": visit.crew.all(),
        "travel_minutes": visit.travel_minutes,
        "note": visit.note,
    }


def _as_it_might_be(job: Job, kind: VisitKind) -> dict[str, Any]:
    """An install so long before the event as the business wants it; the rest on its day."""
    given: dict[str, Any] = {"on": job.event_on, "people": 1}
    window = install_window(job, minutes_on_site=A_USUAL_INSTALL)
    if kind != VisitKind.INSTALL or window is None:
        return given
    starts, ends = (timezone.localtime(moment) for moment in window)
    return {**given, "on": starts.date(), "begins": starts.time(), "ends": ends.time()}


def _drive_help(job: Job) -> str:
    drive = minutes_to(job.site, the_business())
    if drive.basis == Basis.ENTERED:
        return f"One way. Left empty: {drive.minutes} minutes, as the place says."
    if drive.basis == Basis.GUESSED:
        return f"One way. Left empty: about {drive.minutes} minutes, a guess from the map."
    return "One way. Left empty it counts as none: the place has no minutes and no coordinates."
