"""Rates that stand in rows, each a number of days and a share: for rush, and for calling off."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, Final

from django import forms

from decor.fields import PercentField
from quoting.estimator import Rates

MOST_ROWS: Final = 10
DAYS_TWICE: Final = "These days are given twice."
EXTRA_DAYS_MISSING: Final = "With how many days’ notice or less?"
EXTRA_MISSING: Final = "How many per cent are added? Empty the days as well to leave the row out."
KEEP_DAYS_MISSING: Final = "With how many days’ notice or more?"
KEEP_MISSING: Final = "How many per cent are kept? Empty the days as well to leave the row out."
KEEPS_LESS: Final = "Less notice cannot keep less than more notice does."
DAY_ITSELF_MISSING: Final = (
    "The last row must be for 0 days: what is kept when they call off on the day itself."
)

Typed = Mapping[str, Any]
Given = list[tuple[int, int, int]]
Problems = Iterator[tuple[str, str]]


@dataclass(frozen=True, kw_only=True)
class DayRows:
    """`key`, `days` and `share` are the rates' own names; `extra_checks` looks at all rows, each
    with its number, days and share, when each for itself is right."""

    key: str
    days: str
    share: str
    share_word: str
    days_label: str
    share_label: str
    days_missing: str
    share_missing: str
    least_rows: int
    extra_checks: Callable[["DayRows", Given], Problems] | None = None

    def names(self, row: int) -> tuple[str, str]:
        return f"{self.key}_days_{row}", f"{self.key}_{self.share_word}_{row}"

    def fields(self) -> tuple[forms.Field, forms.Field]:
        days = forms.IntegerField(label=self.days_label, min_value=0, max_value=365, required=False)
        return days, PercentField(label=self.share_label, required=False)

    def initial(self, rates: Rates) -> dict[str, int]:
        found = {}
        for row, one in enumerate(getattr(rates, self.key)):
            days_name, share_name = self.names(row)
            found |= {days_name: getattr(one, self.days), share_name: getattr(one, self.share)}
        return found

    def count(self, rates: Rates, typed: Typed) -> int:
        """As many as there are and one more, or as many as were sent."""
        sent = sum(name.startswith(f"{self.key}_days_") for name in typed)
        return min(max(self.least_rows, len(getattr(rates, self.key)) + 1, sent), MOST_ROWS)

    def problems(self, typed: Typed, count: int) -> Problems:
        """Each with the name of its field. `typed` has only what its field found right."""
        found = list(self._row_problems(typed, count))
        all_read = all(name in typed for row in range(count) for name in self.names(row))
        if all_read and not found and self.extra_checks:
            found = list(self.extra_checks(self, self._given(typed, count)))
        yield from found

    def _row_problems(self, typed: Typed, count: int) -> Problems:
        before: set[int] = set()
        for days_name, share_name in map(self.names, range(count)):
            if days_name not in typed or share_name not in typed:
                continue
            days, share = typed[days_name], typed[share_name]
            if days is None and share is not None:
                yield days_name, self.days_missing
            elif share is None and days is not None:
                yield share_name, self.share_missing
            elif days in before:
                yield days_name, DAYS_TWICE
            before |= {days} - {None}

    def _given(self, typed: Typed, count: int) -> Given:
        rows = [(row, *(typed.get(name) for name in self.names(row))) for row in range(count)]
        return [row for row in rows if None not in row]

    def data(self, typed: Typed, count: int) -> list[dict[str, int]]:
        """As `rates_to_dict` writes them, in the order in which they were typed."""
        return [
            {self.days: days, self.share: share} for _, days, share in self._given(typed, count)
        ]


def _bands_fit(rows: DayRows, typed: Given) -> Problems:
    bands = sorted(typed, key=lambda band: -band[1])
    for (_, _, keeps), (row, _, keeps_later) in pairwise(bands):
        if keeps_later < keeps:
            yield rows.names(row)[1], KEEPS_LESS
    if bands and bands[-1][1]:
        yield rows.names(bands[-1][0])[0], DAY_ITSELF_MISSING


RUSH_ROWS: Final = DayRows(
    key="rush",
    days="within_days",
    share="extra_bp",
    share_word="extra",
    days_label="Days’ notice or less",
    share_label="Added (%)",
    days_missing=EXTRA_DAYS_MISSING,
    share_missing=EXTRA_MISSING,
    least_rows=3,
)
CALLING_OFF_ROWS: Final = DayRows(
    key="calling_off",
    days="from_days",
    share="keep_bp",
    share_word="keep",
    days_label="Days’ notice or more",
    share_label="Kept (% of the total)",
    days_missing=KEEP_DAYS_MISSING,
    share_missing=KEEP_MISSING,
    least_rows=4,
    extra_checks=_bands_fit,
)
ROWS: Final = (RUSH_ROWS, CALLING_OFF_ROWS)
