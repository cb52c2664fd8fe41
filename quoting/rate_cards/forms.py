from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.forms.boundfield import BoundField
from django.urls import reverse_lazy

from decor.jobs.days import DayInput, day_to_come
from quoting.estimator import Rates, RatesError, rates_from_dict, rates_to_dict
from quoting.rate_cards.day_rows import ROWS
from quoting.rate_cards.folds import FOLDS, MARGIN, every_line
from quoting.rate_cards.lines import Fold, rate_field
from quoting.rate_cards.measures import Showing
from quoting.rate_cards.terms import HAVE_TERMS_CHECKED

TERMS_MOST = 8000
OPEN_AT_FIRST = ("hours", MARGIN.key)


@dataclass(frozen=True)
class FoldShown:
    fold: Fold
    fields: tuple[BoundField, ...]
    also: tuple[BoundField, ...]
    rows: tuple[tuple[BoundField, BoundField], ...]
    is_first: bool

    @property
    def is_open(self) -> bool:
        """What is wrong is never hidden in a closed fold."""
        in_rows = [field for row in self.rows for field in row]
        return self.is_first or any(field.errors for field in (*self.fields, *self.also, *in_rows))

    @property
    def also_is_open(self) -> bool:
        return any(field.errors for field in self.also)


class RateCardForm(forms.Form):
    """The next rate card, prefilled from one there is. What is left as it is keeps its value."""

    starts_on = forms.DateField(
        label="These rates hold from",
        widget=DayInput,
        help_text="Quotes begun on that day or later use them. Older quotes keep their rates.",
    )
    note = forms.CharField(
        label="What changed and why",
        max_length=200,
        required=False,
        help_text="For yourself.",
    )
    terms = forms.CharField(
        label="Terms on your quotes",
        max_length=TERMS_MOST,
        required=False,
        widget=forms.Textarea(attrs={"rows": 18}),
        help_text=HAVE_TERMS_CHECKED,
    )

    def __init__(
        self, *args: Any, rates: Rates, terms: str, showing: Showing, today: date, **kwargs: Any
    ) -> None:
        self.base, self.showing, self.today = rates, showing, today
        self._base_data = rates_to_dict(rates)
        kwargs["initial"] = {"starts_on": today, "terms": terms, **self._initial_rates()}
        super().__init__(*args, **kwargs)
        for line in every_line():
            self.fields[line.field_name] = rate_field(line, showing)
        self._markup_follows()
        self.row_counts = {rows.key: rows.count(rates, self.data) for rows in ROWS}
        for rows in ROWS:
            for row in range(self.row_counts[rows.key]):
                self.fields |= dict(zip(rows.names(row), rows.fields(), strict=True))

    def _initial_rates(self) -> dict[str, Any]:
        initial = {line.field_name: line.value(self._base_data) for line in every_line()}
        for rows in ROWS:
            initial |= rows.initial(self.base)
        return initial

    def _markup_follows(self) -> None:
        self.fields[MARGIN.lines[0].field_name].widget.attrs |= {
            "hx-get": reverse_lazy("rate_card_markup"),
            "hx-trigger": "input changed delay:150ms",
            "hx-target": "#markup",
            "hx-sync": "this:replace",
        }

    def clean_starts_on(self) -> date:
        return day_to_come(self.cleaned_data["starts_on"], today=self.today)

    def clean_terms(self) -> str:
        """Browsers send line ends of their own, which are no change of the text."""
        return self.cleaned_data["terms"].replace("\r\n", "\n")

    def clean(self) -> None:
        for rows in ROWS:
            count = self.row_counts[rows.key]
            for name, problem in list(rows.problems(self.cleaned_data, count)):
                self.add_error(name, problem)
        if self.errors:
            return
        try:
            self.rates()
        except RatesError as refused:
            self._show_problems(refused)

    def _show_problems(self, refused: RatesError) -> None:
        """What the estimator refuses and no field did: it must not be lost in an exception."""
        fields = {line.name: line.field_name for line in every_line()}
        for problem in refused.problems:
            message = ValidationError(f"It {problem.message}.", code="refused")
            self.add_error(fields.get(problem.key), message)

    def rates(self) -> Rates:
        data = rates_to_dict(self.base)
        for line in every_line():
            if line.field_name in self.changed_data:
                line.put(data, self.cleaned_data[line.field_name])
        typed = self.cleaned_data
        in_rows = {rows.key: rows.data(typed, self.row_counts[rows.key]) for rows in ROWS}
        in_rows["calling_off"].sort(key=lambda band: -band["from_days"])
        return rates_from_dict({**data, **in_rows, "currency": self.showing.currency})

    def folds(self) -> Iterator[FoldShown]:
        for fold in FOLDS:
            yield FoldShown(
                fold=fold,
                fields=tuple(self[line.field_name] for line in fold.lines),
                also=tuple(self[line.field_name] for line in fold.also),
                rows=tuple(self._rows_of(fold)),
                is_first=fold.key in OPEN_AT_FIRST,
            )

    def _rows_of(self, fold: Fold) -> Iterator[tuple[BoundField, BoundField]]:
        for rows in (rows for rows in ROWS if rows.key == fold.key):
            for row in range(self.row_counts[rows.key]):
                days, share = rows.names(row)
                yield self[days], self[share]


class MarginForm(forms.Form):
    """Only the margin, to say what markup it is while it is typed."""

    def __init__(self, *args: Any, showing: Showing, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields[MARGIN.lines[0].field_name] = rate_field(MARGIN.lines[0], showing)
