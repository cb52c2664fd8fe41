"""Estimates side by side: what differs between variants of a piece, in numbers and words."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from .estimating import Estimate
from .saying import Measure, Quantity, UnitSystem, say
from .wording import amount

Money = Callable[[int], str]
# Two floats that differ by less than this are the same to anyone.
_SAME: Final = 1e-6


@dataclass(frozen=True, kw_only=True)
class Row:
    """One figure of every estimate, in their order; the words for more and less of it."""

    key: str
    label: str
    values: tuple[Quantity, ...]
    more: str
    less: str

    @property
    def differs(self) -> bool:
        return any(abs(v.value - self.values[0].value) > _SAME for v in self.values)

    def change(self, index: int) -> float:
        """Of that estimate from the first, in the row's own unit."""
        return self.values[index].value - self.values[0].value

    def said(self, index: int, *, units: str = UnitSystem.METRIC, money: Money = amount) -> str:
        """`clusters 8, 2 fewer`, of that estimate against the first."""
        value, change = self.values[index], self.change(index)
        now = _say(value, units, money)
        if abs(change) <= _SAME:
            return f"{self.label} {now}, the same"
        by = _say(Quantity(abs(change), value.measure), units, money)
        if by == _say(Quantity(0, value.measure), units, money):
            by = "a touch"
        return f"{self.label} {now}, {by} {self.more if change > 0 else self.less}"


def _say(quantity: Quantity, units: str, money: Money) -> str:
    if quantity.measure is Measure.CENTS:
        return money(round(quantity.value))
    return say(quantity, units)


def compare(estimates: Sequence[Estimate]) -> tuple[Row, ...]:
    """Every figure a client or owner chooses by, the first estimate being measured against."""
    return tuple(
        Row(
            key=key,
            label=label,
            values=tuple(Quantity(float(value(est)), measure) for est in estimates),
            more=more,
            less=less,
        )
        for key, label, measure, value, more, less in _FIGURES
    )


def differences(estimates: Sequence[Estimate]) -> Iterator[Row]:
    return (row for row in compare(estimates) if row.differs)


def _balloons(est: Estimate) -> int:
    """To order, foil points left out: they are counted by the starburst."""
    return sum(line.total for line in est.balloons if line.kind == "latex")


_Figure = tuple[str, str, Measure, Callable[[Estimate], float], str, str]
_FIGURES: Final[tuple[_Figure, ...]] = (
    ("length", "length", Measure.LENGTH, lambda e: e.path_length_m, "longer", "shorter"),
    (
        "widest",
        "width at its widest",
        Measure.LENGTH,
        lambda e: max(s.width_m for s in e.spec.width),
        "wider",
        "narrower",
    ),
    (
        "narrowest",
        "width at its narrowest",
        Measure.LENGTH,
        lambda e: min(s.width_m for s in e.spec.width),
        "wider",
        "narrower",
    ),
    ("balloons", "balloons to order", Measure.COUNT, _balloons, "more", "fewer"),
    ("clusters", "clusters", Measure.COUNT, lambda e: e.make.cluster_count, "more", "fewer"),
    ("accents", "accent bunches", Measure.COUNT, lambda e: e.make.accent_bunches, "more", "fewer"),
    ("minis", "mini-clusters", Measure.COUNT, lambda e: e.make.minis, "more", "fewer"),
    ("singles", "large singles", Measure.COUNT, lambda e: e.make.singles, "more", "fewer"),
    ("starbursts", "starbursts", Measure.COUNT, lambda e: e.make.starbursts, "more", "fewer"),
    ("person_hours", "hours of work", Measure.HOURS, lambda e: e.person_hours, "more", "less"),
    (
        "cost",
        "cost",
        Measure.CENTS,
        lambda e: e.price.cost_cents,
        "more",
        "less",
    ),
    ("total", "price with tax", Measure.CENTS, lambda e: e.price.total_cents, "more", "less"),
)
