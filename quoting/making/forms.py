from datetime import date
from typing import Any

from django import forms

from decor.form_layout import form_helper
from quoting.making.plan import BENCH_PHASES
from quoting.models.making import MOST_MINUTES, MOST_PEOPLE

MOST_HOURS = MOST_MINUTES // 60
HOW_LONG = f"Hours of one day: more than 0, at most {MOST_HOURS}. Enter several days one by one."
NOT_YET = "This day is still to come."
_WRONG = ("invalid", "min_value", "max_value", "max_decimal_places", "max_digits")
HOW_MANY = f"A whole number from 1 to {MOST_PEOPLE}."


class HoursForm(forms.Form):
    """Hours typed afterwards, where no clock ran."""

    phase = forms.ChoiceField(
        label="What at", choices=[(phase, phase.capitalize()) for phase in BENCH_PHASES]
    )
    on = forms.DateField(
        label="Which day", widget=forms.DateInput(format="%Y-%m-%d", attrs={"type": "date"})
    )
    hours = forms.DecimalField(
        label="Hours of each person",
        min_value=0,
        max_value=MOST_HOURS,
        decimal_places=2,
        help_text="Such as 1.5",
        error_messages=dict.fromkeys(_WRONG, HOW_LONG),
    )
    people = forms.IntegerField(
        label="People",
        min_value=1,
        max_value=MOST_PEOPLE,
        initial=1,
        error_messages=dict.fromkeys(("invalid", "min_value", "max_value"), HOW_MANY),
    )

    def __init__(self, *args: Any, today: date, job_pk: int, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.today = today
        self.initial.setdefault("on", today)
        self.helper = form_helper(
            "phase", "on", "hours", "people", submit="Keep these hours", keep=f"hours-{job_pk}"
        )

    def clean_on(self) -> date:
        on = self.cleaned_data["on"]
        if on > self.today:
            raise forms.ValidationError(NOT_YET)
        return on

    def clean_hours(self) -> int:
        """As whole minutes."""
        minutes = round(self.cleaned_data["hours"] * 60)
        if minutes < 1:
            raise forms.ValidationError(HOW_LONG)
        return minutes
