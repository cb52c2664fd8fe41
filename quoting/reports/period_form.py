"""Which days a report is asked for."""

from datetime import date
from typing import Any

from django import forms

from decor.jobs.days import DayInput
from quoting.reports.period import Period, Span, period_of

MOST_YEARS = 10
WRONG_WAY_ROUND = "This day must not come before the first."
TOO_LONG = f"At most {MOST_YEARS} years at a time, please."
SAY_BOTH = "Give both days."


class PeriodForm(forms.Form):
    """Asked in the address: a wrong day is said beside it, and the usual months are shown."""

    span = forms.ChoiceField(choices=Span.choices, required=False)
    first = forms.DateField(label="From", required=False, widget=DayInput)
    last = forms.DateField(label="To", required=False, widget=DayInput)

    def clean(self) -> dict[str, Any]:
        asked = super().clean()
        if asked.get("span") == Span.OWN and not self.errors:
            self._check(asked["first"], asked["last"])
        return asked

    def _check(self, first: date | None, last: date | None) -> None:
        for name, day in (("first", first), ("last", last)):
            if day is None:
                self.add_error(name, SAY_BOTH)
        if self.errors:
            return
        if last < first:
            self.add_error("last", WRONG_WAY_ROUND)
        elif (last - first).days > MOST_YEARS * 366:
            self.add_error("last", TOO_LONG)

    def period(self, *, today: date) -> Period:
        if not self.is_valid():
            return period_of(Span.TWELVE, today=today)
        asked = self.cleaned_data
        if asked["span"] == Span.OWN:
            return Period(asked["first"], asked["last"])
        return period_of(Span(asked["span"] or Span.TWELVE), today=today)

    @property
    def chosen(self) -> str:
        return self.data.get("span") or Span.TWELVE
