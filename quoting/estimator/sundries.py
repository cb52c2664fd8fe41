"""What is needed besides balloons: bands, ribbon, bags; and how many anchors."""

from dataclasses import dataclass
from math import ceil

from . import constants as c
from .filling import whole_up
from .paths import is_closed
from .rates import Rates
from .recipe import Recipe
from .spec import Spec
from .weather.wind import anchors_for


@dataclass(frozen=True, kw_only=True)
class SundryLine:
    item: str
    quantity: float
    unit: str


def anchors_by_spacing(spec: Spec, length_m: float) -> int:
    """Both ends and never further apart than usual; outdoors the bottom is held twice over."""
    outdoor = spec.site.outdoor
    spacing = c.ANCHOR_SPACING_OUTDOORS_M if outdoor else c.ANCHOR_SPACING_INDOORS_M
    extra = int(c.EXTRA_LOW_TIES_OUTDOORS.value) if outdoor else 0
    return _anchors_every(spacing.value, spec, length_m) + extra


def anchor_count(spec: Spec, *, length_m: float, force_n: float, rates: Rates) -> int:
    """As many as the ties need to hold the gust, where usual spacing is not enough.

    No closer than ties share a load, and not for a gust in which nothing is installed.
    """
    spaced = anchors_by_spacing(spec, length_m)
    if spec.site.gust_mps > rates.wind_limit_mps:
        return spaced
    closest = _anchors_every(c.ANCHOR_CLOSEST_M.value, spec, length_m)
    return max(spaced, min(anchors_for(force_n, rates.tie_strength_n), closest))


def _anchors_every(spacing_m: float, spec: Spec, length_m: float) -> int:
    gaps = max(1, whole_up(length_m / spacing_m))
    return gaps if is_closed(spec.path) else gaps + 1


def fixing_count(recipe: Recipe) -> int:
    """One for each accent bunch and mini, two for each starburst; clusters hold themselves."""
    return recipe.accent_bunches + recipe.minis + c.BANDS_PER_STARBURST * recipe.starbursts


def sundry_lines(recipe: Recipe, *, anchors: int, bags: int, tie: str) -> tuple[SundryLine, ...]:
    lines = (
        _fixings(tie, fixing_count(recipe)),
        SundryLine(item="curling ribbon", quantity=_tenths_up(anchors * c.TIE_M.value), unit="m"),
        SundryLine(item="packing bag", quantity=bags, unit="each"),
    )
    return tuple(line for line in lines if line.quantity)


def _fixings(tie: str, count: int) -> SundryLine:
    if tie == "fishing line":
        metres = _tenths_up(count * c.LINE_PER_FIXING_M.value)
        return SundryLine(item=tie, quantity=metres, unit="m")
    return SundryLine(item=tie, quantity=count, unit="each")


def _tenths_up(metres: float) -> float:
    return ceil(metres * 10 - 1e-9) / 10
