"""How good the estimates are, in words and as points of a plain drawing."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import log
from typing import Final

from quoting.estimator.learning import (
    Calibration,
    Observation,
    PhaseError,
    calibration,
    phase_errors,
)
from quoting.estimator.rates import UnitTimes
from quoting.learning.observing import Seen, costs_ranged, hours_ranged, points_in_time, times_seen

# Units of the drawing, scaled to the page. Times as long as estimated, on a log scale, so that
# twice as long and half as long stand equally far from the middle.
WIDTH, HEIGHT, LEFT, TOP = 480.0, 200.0, 50.0, 12.0
MOST: Final = log(2.5)
MARKS: Final = (0.5, 1.0, 2.0)


@dataclass(frozen=True)
class Dot:
    x: float
    y: float
    said: str


@dataclass(frozen=True)
class MarkLine:
    y: float
    said: str


@dataclass(frozen=True)
class TimeChart:
    width: float
    height: float
    left: float
    right: float
    marks: tuple[MarkLine, ...]
    dots: tuple[Dot, ...]


@dataclass(frozen=True, kw_only=True)
class TimeRow:
    seen: Seen
    estimated: float
    real: float

    @property
    def ratio(self) -> float:
        return self.real / self.estimated

    @property
    def times(self) -> str:
        return f"{self.ratio:.2f}"


@dataclass(frozen=True, kw_only=True)
class HowGood:
    hours: Calibration
    cost: Calibration
    phases: tuple[PhaseError, ...]
    rows: tuple[TimeRow, ...]
    chart: TimeChart | None


def how_good(seen: Sequence[Seen]) -> HowGood:
    """Each job by the card it was estimated with: what it was stated then is what is judged."""
    rows = tuple(
        TimeRow(seen=each, estimated=planned, real=real)
        for each, planned, real in points_in_time(seen)
        if planned
    )
    return HowGood(
        hours=calibration(hours_ranged(seen)),
        cost=calibration(costs_ranged(seen)),
        phases=phase_errors(_by_its_own_card(seen)),
        rows=rows,
        chart=_chart(rows) if rows else None,
    )


def _by_its_own_card(seen: Iterable[Seen]) -> list[Observation]:
    return [
        observation
        for each in seen
        for observation in times_seen([each], UnitTimes(**each.result["unit_times"]))
    ]


def _chart(rows: Sequence[TimeRow]) -> TimeChart:
    right = LEFT + WIDTH
    step = WIDTH / len(rows)
    return TimeChart(
        width=right + 10,
        height=HEIGHT + 2 * TOP,
        left=LEFT,
        right=right,
        marks=tuple(MarkLine(y=_y(times), said=f"× {times:g}") for times in MARKS),
        dots=tuple(
            Dot(
                x=round(LEFT + step * (at + 0.5), 1),
                y=_y(row.ratio),
                said=f"{row.seen.look_back.job.title}: {row.times} times the estimate",
            )
            for at, row in enumerate(rows)
        ),
    )


def _y(ratio: float) -> float:
    """One is the middle; what lies beyond the drawing stands at its edge."""
    share = max(-1.0, min(1.0, log(ratio) / MOST))
    return round(TOP + HEIGHT / 2 * (1 - share), 1)
