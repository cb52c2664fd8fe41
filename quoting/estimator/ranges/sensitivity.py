"""Which inputs matter most: each moved to its ends by itself, all others as estimated."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from .. import constants as c
from ..catalogue import Catalogue
from ..estimating import Estimate, estimate
from ..orders import OrderConditions
from ..pricing import price_order
from ..rates import Rates
from ..wording import amount
from .curve import Curve


@dataclass(frozen=True, kw_only=True)
class Effect:
    """What one input does to the cost, in cents, at either end of its range.

    `low` and `high` say the ends in words; `low_cents` and `high_cents` are the change of
    the cost there, which may be below nothing.
    """

    name: str
    low: str
    high: str
    low_cents: int
    high_cents: int
    provenance: str

    @property
    def swing_cents(self) -> int:
        return max(self.low_cents, self.high_cents, 0) - min(self.low_cents, self.high_cents, 0)

    def said(self, money: Callable[[int], str] = amount) -> str:
        ends = (
            f"{end}, the cost {_moved(cents, money)}"
            for end, cents in ((self.low, self.low_cents), (self.high, self.high_cents))
        )
        return f"{self.name}: {'; '.join(ends)}"


def _moved(cents: int, money: Callable[[int], str]) -> str:
    if not cents:
        return "stays as it is"
    return f"{'rises' if cents > 0 else 'falls'} by {money(abs(cents))}"


def _percent(share: float) -> str:
    return f"{share * 100:.0f} %"


def effects_of(
    pieces: Sequence[Estimate], curve: Curve, *, conditions: OrderConditions, rates: Rates
) -> tuple[Effect, ...]:
    """The one that swings the cost most comes first."""
    found = (
        *_of_filling(curve, rates),
        *_of_time(curve, rates),
        *_of_losses(pieces, conditions, rates),
    )
    return tuple(sorted(found, key=lambda effect: -effect.swing_cents))


def _cost(curve: Curve, u: float, making: float = 1, on_site: float = 1, driving: float = 1) -> int:
    factors = (np.array([factor]) for factor in (u, making, on_site, driving))
    return round(float(curve.cost(*factors)[0]))


def _of_filling(curve: Curve, rates: Rates) -> Iterator[Effect]:
    base = _cost(curve, rates.fill)
    spread, swell = c.FILL_SPREAD.value, c.INFLATION_SPREAD.value
    yield Effect(
        name="how tightly the balloons fill it",
        low=f"at {rates.fill - spread:.3f} of the space",
        high=f"at {rates.fill + spread:.3f}",
        low_cents=_cost(curve, rates.fill - spread) - base,
        high_cents=_cost(curve, rates.fill + spread) - base,
        provenance=c.FILL_SPREAD.provenance,
    )
    yield Effect(
        name="how large the balloons are inflated",
        low=f"{_percent(swell)} smaller across",
        high=f"{_percent(swell)} larger",
        low_cents=_cost(curve, rates.fill / (1 - swell) ** 3) - base,
        high_cents=_cost(curve, rates.fill / (1 + swell) ** 3) - base,
        provenance=c.INFLATION_SPREAD.provenance,
    )


def _of_time(curve: Curve, rates: Rates) -> Iterator[Effect]:
    base = _cost(curve, rates.fill)
    for name, kind, constant in (
        ("how fast it is made and packed", "making", c.TIME_SPREAD),
        ("how fast it goes up and is cleared", "on_site", c.TIME_SPREAD),
        ("how long the drive takes", "driving", c.DRIVE_SPREAD),
    ):
        slow = 1 + constant.value
        yield Effect(
            name=name,
            low=f"{_percent(1 - 1 / slow)} quicker",
            high=f"{_percent(slow - 1)} slower",
            low_cents=_cost(curve, rates.fill, **{kind: 1 / slow}) - base,
            high_cents=_cost(curve, rates.fill, **{kind: slow}) - base,
            provenance=constant.provenance,
        )


def _of_losses(
    pieces: Sequence[Estimate], conditions: OrderConditions, rates: Rates
) -> Iterator[Effect]:
    """Through the spares that are bought against them."""

    def cost(loss: float) -> int:
        at_loss = replace(rates, loss_latex=loss)
        tried = [
            estimate(p.spec, catalogue=_losing(p.catalogue), rates=at_loss, conditions=conditions)
            for p in pieces
        ]
        return price_order(tried, rates=rates, conditions=conditions).cost_cents

    base = cost(rates.loss_latex)
    constant = c.LOSS_LATEX
    yield Effect(
        name="how many balloons are lost",
        low=f"{_percent(constant.low)} of the latex",
        high=f"{_percent(constant.high)}",
        low_cents=cost(constant.low) - base,
        high_cents=cost(constant.high) - base,
        provenance=constant.provenance,
    )


def _losing(catalogue: Catalogue) -> Catalogue:
    """Without the histories of single items, which the loss that is tried would not reach."""
    return replace(catalogue, items=tuple(replace(i, loss_rate=None) for i in catalogue.items))
