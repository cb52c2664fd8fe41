from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.forms.boundfield import BoundField
from django.urls import reverse_lazy

from decor.fields import PercentField
from decor.jobs.days import DayInput, day_to_come
from quoting.estimator import Rates, RatesError, rates_from_dict, rates_to_dict
from quoting.rate_cards.folds import FOLDS, MARGIN, RUSH, every_line
from quoting.rate_cards.lines import Fold, rate_field
from quoting.rate_cards.measures import Showing
from quoting.rate_cards.terms import HAVE_TERMS_CHECKED

RUSH_LEAST_ROWS = 3
RUSH_MOST_ROWS = 10
TERMS_MOST = 8000
OPEN_AT_FIRST = ("hours", MARGIN.key)
DAYS_MISSING = "With how many days’ notice or less?"
EXTRA_MISSING = "How many per cent are added? Empty the days as well to leave the row out."
DAYS_TWICE = "These days are given twice."


@dataclass(frozen=True)
class FoldShown:
    fold: Fold
    fields: tuple[BoundField, ...]
    also: tuple[BoundField, ...]
    rush_rows: tuple[tuple[BoundField, BoundField], ...]
    is_first: bool

    @property
    def is_open(self) -> bool:
        """What is wrong is never hidden in a closed fold."""
        rush = [field for row in self.rush_rows for field in row]
        return self.is_first or any(field.errors for field in (*self.fields, *self.also, *rush))

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
        self.rush_count = self._rush_rows_wanted()
        for row in range(self.rush_count):
            self._add_rush_row(row)

    def _initial_rates(self) -> dict[str, Any]:
        initial = {line.field_name: line.value(self._base_data) for line in every_line()}
        for row, tier in enumerate(self.base.rush):
            initial |= {f"rush_days_{row}": tier.within_days, f"rush_extra_{row}": tier.extra_bp}
        return initial

    def _markup_follows(self) -> None:
        self.fields[MARGIN.lines[0].field_name].widget.attrs |= {
            "hx-get": reverse_lazy("rate_card_markup"),
            "hx-trigger": "input changed delay:150ms",
            "hx-target": "#markup",
            "hx-sync": "this:replace",
        }

    def _rush_rows_wanted(self) -> int:
        typed = sum(name.startswith("rush_days_") for name in self.data)
        rows = max(RUSH_LEAST_ROWS, len(self.base.rush) + 1, typed)
        return min(rows, RUSH_MOST_ROWS)

    def _add_rush_row(self, row: int) -> None:
        self.fields[f"rush_days_{row}"] = forms.IntegerField(
            label="Days’ notice or less", min_value=0, max_value=365, required=False
        )
        self.fields[f"rush_extra_{row}"] = PercentField(label="Added (%)", required=False)

    def clean_starts_on(self) -> date:
        return day_to_come(self.cleaned_data["starts_on"], today=self.today)

    def clean_terms(self) -> str:
        """Browsers send line ends of their own, which are no change of the text."""
        return self.cleaned_data["terms"].replace("\r\n", "\n")

    def clean(self) -> None:
        for row in range(self.rush_count):
            self._check_rush_row(row)
        if self.errors:
            return
        try:
            self.rates()
        except RatesError as refused:
            self._show_problems(refused)

    def _check_rush_row(self, row: int) -> None:
        days_name, extra_name = f"rush_days_{row}", f"rush_extra_{row}"
        if days_name in self.errors or extra_name in self.errors:
            return
        days, extra = self.cleaned_data[days_name], self.cleaned_data[extra_name]
        before = [self.cleaned_data.get(f"rush_days_{other}") for other in range(row)]
        if days is None and extra is not None:
            self.add_error(days_name, DAYS_MISSING)
        elif extra is None and days is not None:
            self.add_error(extra_name, EXTRA_MISSING)
        elif days is not None and days in before:
            self.add_error(days_name, DAYS_TWICE)

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
        rush = [
            {
                "within_days": self.cleaned_data[f"rush_days_{row}"],
                "extra_bp": self.cleaned_data[f"rush_extra_{row}"],
            }
            for row in range(self.rush_count)
            if self.cleaned_data[f"rush_days_{row}"] is not None
        ]
        return rates_from_dict({**data, "rush": rush, "currency": self.showing.currency})

    def folds(self) -> Iterator[FoldShown]:
        for fold in FOLDS:
            rows = range(self.rush_count if fold.key == RUSH else 0)
            yield FoldShown(
                fold=fold,
                fields=tuple(self[line.field_name] for line in fold.lines),
                also=tuple(self[line.field_name] for line in fold.also),
                rush_rows=tuple((self[f"rush_days_{i}"], self[f"rush_extra_{i}"]) for i in rows),
                is_first=fold.key in OPEN_AT_FIRST,
            )


class MarginForm(forms.Form):
    """Only the margin, to say what markup it is while it is typed."""

    def __init__(self, *args: Any, showing: Showing, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields[MARGIN.lines[0].field_name] = rate_field(MARGIN.lines[0], showing)
