"""How many balloons to order: the body with its honest range, and every item with spares."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from . import constants as c
from .catalogue import Catalogue, CatalogueItem, Kind
from .filling import Body, fill, refuse_absurd, refuse_overfull, whole_down, whole_up
from .rates import Rates
from .recipe import Needed, Recipe
from .spares import order_quantity
from .spec import Spec

Use = Literal["base", "filler", "single", "accent", "starburst"]


@dataclass(frozen=True, kw_only=True)
class BodyCount:
    """The likely fill, and its ends: loosely with large balloons, tightly with small ones."""

    likely: Body
    least: Body
    most: Body

    @property
    def body(self) -> int:
        return whole_up(self.likely.base)

    @property
    def low(self) -> int:
        return whole_down(self.least.base)

    @property
    def high(self) -> int:
        return whole_up(self.most.base)


@dataclass(frozen=True, kw_only=True)
class BalloonLine:
    """`low` to `high` is the honest range of `need`; `total` is the firm number to order."""

    colour: str
    kind: Kind
    nominal_in: float | None
    inflated_in: tuple[float, float] | None
    use: Use
    need: int
    spare: int
    total: int
    low: int
    high: int


def body_count(spec: Spec, *, length_m: float, envelope_m3: float, fill_share: float) -> BodyCount:
    """Raises SpecError when accents and singles leave no room, or the count is absurd."""
    spread, sizing = c.FILL_SPREAD.value, c.INFLATION_SPREAD.value

    def at(fraction: float, swell: float) -> Body:
        return fill(
            spec, length_m=length_m, envelope_m3=envelope_m3, fraction=fraction, swell=swell
        )

    likely = at(fill_share, 1)
    refuse_overfull(spec, likely)
    refuse_absurd(likely)
    return BodyCount(
        likely=likely,
        least=at(fill_share - spread, 1 + sizing),
        most=at(fill_share + spread, 1 - sizing),
    )


def balloon_lines(
    spec: Spec, recipe: Recipe, count: BodyCount, *, catalogue: Catalogue, rates: Rates
) -> tuple[BalloonLine, ...]:
    ranges = _Ranges(spec, recipe, count)
    lines = (
        _line(needed, spec.confidence, ranges, catalogue=catalogue, rates=rates)
        for needed in recipe.needed
    )
    return tuple(line for line in lines if line.need)


def loss_rate(item: CatalogueItem, rates: Rates) -> float:
    """The item's own history, else the business's default for its kind."""
    if item.loss_rate is not None:
        return item.loss_rate
    by_kind = {
        c.LOSS_FOIL: rates.loss_foil,
        c.LOSS_LARGE: rates.loss_large,
        c.LOSS_LATEX: rates.loss_latex,
    }
    return by_kind[usual_loss(item)]


def usual_loss(item: CatalogueItem) -> c.Constant:
    if item.kind == "foil":
        return c.LOSS_FOIL
    is_large = item.nominal_in is not None and item.nominal_in >= c.LARGE_NOMINAL_IN
    return c.LOSS_LARGE if is_large else c.LOSS_LATEX


def _line(
    needed: Needed, confidence: float, ranges: "_Ranges", *, catalogue: Catalogue, rates: Rates
) -> BalloonLine:
    item = catalogue.item(needed.kind, needed.colour, needed.nominal_in)
    total = order_quantity(needed.count, loss_rate(item, rates), confidence)
    low, high = ranges.of(needed)
    return BalloonLine(
        colour=needed.colour,
        kind=needed.kind,
        nominal_in=needed.nominal_in,
        inflated_in=needed.inflated_in,
        use=needed.use,
        need=needed.count,
        spare=total - needed.count,
        total=total,
        low=low,
        high=high,
    )


class _Ranges:
    """Base and accents stretch with the fill; the rest is as many as was asked for."""

    def __init__(self, spec: Spec, recipe: Recipe, count: BodyCount) -> None:
        made = recipe.cluster_count * recipe.cluster_of
        self._base = (max(count.least.base, 0) / made, count.most.base / made)
        self._accents = dict(_accent_ranges(spec, count))

    def of(self, needed: Needed) -> tuple[int, int]:
        if needed.use == "base":
            low, high = (needed.count * part for part in self._base)
        elif needed.use == "accent":
            low, high = self._accents[needed.colour]
        else:
            return needed.count, needed.count
        return min(whole_down(low), needed.count), max(whole_up(high), needed.count)


def _accent_ranges(spec: Spec, count: BodyCount) -> Iterator[tuple[str, tuple[float, float]]]:
    ends = zip(spec.accents, count.least.accents, count.most.accents, strict=True)
    for accent, low, high in ends:
        yield accent.colour, (low, high)
