"""How an order's counts, hours and cost follow the one number that counts depend on.

Counts depend on fill and inflation only through `u = fill / swell^3`: every volume goes
as the cube of the diameter, and the singles' share of the room does not change with it.
So the order is estimated at a few values of u and read off between them, and thousands of
chances cost no more estimates than that.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from .. import constants as c
from ..estimating import Estimate, estimate
from ..hours import LabourLine, elapsed_hours, visit_labour
from ..orders import OrderConditions
from ..pricing import price_order
from ..problems import SpecError
from ..rates import Rates

MAKING_PHASES = ("inflate and tie", "twist clusters", "mini-clusters", "starbursts", "pack")
DRIVE_PHASE = "drive"
_STEPS_EACH_SIDE = 4

Numbers = NDArray[np.float64]


@dataclass(frozen=True)
class Work:
    """Of one group of phases: person-hours, and their wages in cents."""

    hours: float
    cents: float


@dataclass(frozen=True)
class Point:
    """An order at one u, its wages apart from the rest of its direct cost."""

    u: float
    body: int
    balloons: int
    making: Work
    on_site: Work
    driving: Work
    other_cents: float


@dataclass(frozen=True)
class Curve:
    """Points in order of u; `overhead` multiplies direct cost. What holds for the whole order."""

    points: tuple[Point, ...]
    overhead: float
    elapsed_share: float

    def at(self, name: str, u: Numbers) -> Numbers:
        """`body`, or a part of a part such as `making.hours`."""
        us = [point.u for point in self.points]
        return np.interp(u, us, [_dig(point, name) for point in self.points])

    def hours(self, u: Numbers, making: Numbers, on_site: Numbers, driving: Numbers) -> Numbers:
        """Person-hours where each kind of work takes so many times what it was estimated."""
        return self._worked("hours", u, making, on_site, driving)

    def cost(self, u: Numbers, making: Numbers, on_site: Numbers, driving: Numbers) -> Numbers:
        """In cents, with overhead."""
        wages = self._worked("cents", u, making, on_site, driving)
        return (wages + self.at("other_cents", u)) * self.overhead

    def _worked(
        self, what: str, u: Numbers, making: Numbers, on_site: Numbers, driving: Numbers
    ) -> Numbers:
        return (
            self.at(f"making.{what}", u) * making
            + self.at(f"on_site.{what}", u) * on_site
            + self.at(f"driving.{what}", u) * driving
        )


def curve_of(pieces: Sequence[Estimate], *, conditions: OrderConditions, rates: Rates) -> Curve:
    """`pieces` at their own rates' fill lie on it exactly."""
    middle = rates.fill
    swell, spread = c.INFLATION_SPREAD.value, c.FILL_SPREAD.value
    lowest = (middle - spread) / (1 + swell) ** 3
    highest = (middle + spread) / (1 - swell) ** 3
    steps = range(1, _STEPS_EACH_SIDE + 1)
    us = (
        *(lowest + (middle - lowest) * (i - 1) / _STEPS_EACH_SIDE for i in steps),
        *(middle + (highest - middle) * i / _STEPS_EACH_SIDE for i in steps),
    )
    tried = (_point(pieces, u, conditions, rates) for u in us)
    own = _point_of(pieces, middle, conditions, rates)
    points = sorted((own, *(p for p in tried if p)), key=lambda point: point.u)
    crew = max(piece.spec.crew for piece in pieces)
    return Curve(
        points=tuple(points),
        overhead=1 + rates.overhead_bp / 10_000,
        elapsed_share=elapsed_hours(1.0, crew, rates.unit_times),
    )


def _point(
    pieces: Sequence[Estimate], u: float, conditions: OrderConditions, rates: Rates
) -> Point | None:
    """None where accents and singles leave no room: the curve then ends before it."""
    at_u = replace(rates, fill=u)
    try:
        tried = [
            estimate(p.spec, catalogue=p.catalogue, rates=at_u, conditions=conditions)
            for p in pieces
        ]
    except SpecError:
        return None
    return _point_of(tried, u, conditions, rates)


def _point_of(
    pieces: Sequence[Estimate], u: float, conditions: OrderConditions, rates: Rates
) -> Point:
    cost = price_order(pieces, rates=rates, conditions=conditions).cost_lines
    direct = sum(line.amount_cents for line in cost if line.kind != "overhead")
    labour = list(_labour(pieces, conditions, rates))
    making = _work((x for x in labour if x.phase in MAKING_PHASES), rates)
    driving = _work((x for x in labour if x.phase == DRIVE_PHASE), rates)
    on_site = _work((x for x in labour if x.phase not in (*MAKING_PHASES, DRIVE_PHASE)), rates)
    return Point(
        u=u,
        body=sum(piece.count.body for piece in pieces),
        balloons=sum(line.need for piece in pieces for line in piece.balloons),
        making=making,
        on_site=on_site,
        driving=driving,
        other_cents=direct - making.cents - on_site.cents - driving.cents,
    )


def _labour(
    pieces: Sequence[Estimate], conditions: OrderConditions, rates: Rates
) -> Iterator[LabourLine]:
    for piece in pieces:
        yield from piece.use.labour
    yield from visit_labour(
        [piece.path_length_m for piece in pieces],
        conditions=conditions,
        crew=max(piece.spec.crew for piece in pieces),
        rates=rates,
    )


def _work(lines: Iterator[LabourLine], rates: Rates) -> Work:
    held = list(lines)
    return Work(
        hours=sum(line.person_hours for line in held),
        cents=sum(line.person_hours * rates.labour_rate(line.phase) for line in held),
    )


def _dig(point: Point, name: str) -> float:
    found: object = point
    for part in name.split("."):
        found = getattr(found, part)
    return float(found)  # type: ignore[arg-type]
