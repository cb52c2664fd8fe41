"""Low, likely and high of an order, and the chance that it earns too little.

One method: seeded Monte-Carlo. Each chance draws a fill, evenly over its +-0.015, and a
swell of the diameters, evenly over +-5 %, the same for every balloon (a hand that sizes
large sizes all of them large); and, each for itself, how long making, work on site and
driving take, log-normal about the estimate. Low and high are the ends within which eight
chances of ten fall; likely is the estimate itself. What was ordered and the price stay as
quoted: only the cost of doing it moves.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import log
from statistics import NormalDist
from typing import Final

import numpy as np

from .. import constants as c
from ..estimating import Estimate
from ..orders import OrderConditions
from ..pricing import Price
from ..rates import Rates
from .curve import Numbers, curve_of
from .sensitivity import Effect, effects_of

DRAWS: Final = 4000
SEED: Final = 20
INSIDE: Final = 0.80
METHOD: Final = (
    f"{DRAWS} chances of a fill ±{c.FILL_SPREAD.value}, an inflation "
    f"±{c.INFLATION_SPREAD.value * 100:g} %, and times that are in {INSIDE * 100:g} % of jobs "
    f"within {1 + c.TIME_SPREAD.value:g} times the estimate (driving "
    f"{1 + c.DRIVE_SPREAD.value:g}); low to high holds {INSIDE * 100:g} % of the chances"
)
_TAIL: Final = (1 - INSIDE) / 2
_WHOLE_BP: Final = 10_000


@dataclass(frozen=True)
class Spread:
    low: float
    likely: float
    high: float


@dataclass(frozen=True, kw_only=True)
class HonestRange:
    """Counts are of whole balloons before spares, hours of persons, cost in cents.

    `least_margin_chance` is the chance that what is left of the net price is a smaller
    share of it than `minimum_margin_bp`.
    """

    body: Spread
    balloons: Spread
    person_hours: Spread
    elapsed_hours: Spread
    cost_cents: Spread
    margin_bp: Spread
    minimum_margin_bp: int
    least_margin_chance: float
    effects: tuple[Effect, ...]
    method: str = METHOD


def range_of(made: Estimate) -> HonestRange:
    """Of one piece by itself, at the price it was estimated at."""
    return order_range([made], price=made.price, conditions=made.conditions, rates=made.rates)


def order_range(
    pieces: Sequence[Estimate], *, price: Price, conditions: OrderConditions, rates: Rates
) -> HonestRange:
    """The price is kept as quoted. One hand makes all pieces, so their counts move together."""
    curve = curve_of(pieces, conditions=conditions, rates=rates)
    likely = np.array([rates.fill])
    u, times = _draw(rates.fill)
    plain = (np.ones(1),) * 3
    hours, likely_hours = curve.hours(u, *times), curve.hours(likely, *plain)
    cost = curve.cost(u, *times)
    margins = _margins(cost, price.net_cents)
    return HonestRange(
        body=_whole(curve.at("body", u), curve.at("body", likely)),
        balloons=_whole(curve.at("balloons", u), curve.at("balloons", likely)),
        person_hours=_spread(hours, likely_hours[0]),
        elapsed_hours=_spread(hours * curve.elapsed_share, likely_hours[0] * curve.elapsed_share),
        cost_cents=_whole(cost, np.array([price.cost_cents])),
        margin_bp=_whole(margins, np.array([price.margin_bp])),
        minimum_margin_bp=rates.minimum_margin_bp,
        least_margin_chance=float(np.mean(margins < rates.minimum_margin_bp)),
        effects=effects_of(pieces, curve, conditions=conditions, rates=rates),
    )


def _draw(fill: float) -> tuple[Numbers, tuple[Numbers, Numbers, Numbers]]:
    rng = np.random.default_rng(SEED)
    swell, spread = c.INFLATION_SPREAD.value, c.FILL_SPREAD.value
    fills = fill + rng.uniform(-spread, spread, DRAWS)
    swells = 1 + rng.uniform(-swell, swell, DRAWS)
    u = fills / swells**3
    making, on_site, driving = (
        np.exp(rng.normal(0, time_sigma(share), DRAWS))
        for share in (c.TIME_SPREAD.value, c.TIME_SPREAD.value, c.DRIVE_SPREAD.value)
    )
    return u, (making, on_site, driving)


def time_sigma(share: float) -> float:
    """Of a log-normal of which INSIDE lies within (1 + share) times of its middle."""
    return log(1 + share) / NormalDist().inv_cdf(1 - _TAIL)


def _margins(cost: Numbers, net_cents: int) -> Numbers:
    """In basis points of the net price; of no price nothing is left."""
    if not net_cents:
        return np.zeros_like(cost)
    return (net_cents - cost) / net_cents * _WHOLE_BP


def _spread(values: Numbers, likely: float) -> Spread:
    low, high = np.quantile(values, (_TAIL, 1 - _TAIL))
    return Spread(low=min(float(low), likely), likely=float(likely), high=max(float(high), likely))


def _whole(values: Numbers, likely: Numbers) -> Spread:
    """Outward to whole numbers, so that the range never claims too much."""
    spread = _spread(values, float(likely[0]))
    return Spread(
        low=float(np.floor(spread.low)), likely=spread.likely, high=float(np.ceil(spread.high))
    )
