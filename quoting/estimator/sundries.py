"""What is needed besides balloons: bands, ribbon, bags; and how many anchors."""

from dataclasses import dataclass
from math import ceil

from . import constants as c
from .filling import whole_up
from .paths import is_closed
from .recipe import Recipe
from .spec import Spec


@dataclass(frozen=True, kw_only=True)
class SundryLine:
    item: str
    quantity: float
    unit: str


def anchor_count(spec: Spec, length_m: float) -> int:
    """Both ends and never further apart than usual; outdoors the bottom is held twice over."""
    outdoor = spec.site.outdoor
    spacing = c.ANCHOR_SPACING_OUTDOORS_M if outdoor else c.ANCHOR_SPACING_INDOORS_M
    gaps = max(1, whole_up(length_m / spacing.value))
    ends = 0 if is_closed(spec.path) else 1
    return gaps + ends + (int(c.EXTRA_LOW_TIES_OUTDOORS.value) if outdoor else 0)


def fixing_count(recipe: Recipe) -> int:
    """One for each accent bunch and mini, two for each starburst; clusters hold themselves."""
    return recipe.accent_bunches + recipe.minis + c.BANDS_PER_STARBURST * recipe.starbursts


def sundry_lines(
    recipe: Recipe, *, tie: str, anchors: int, packed_m3: float, bag_m3: float
) -> tuple[SundryLine, ...]:
    lines = (
        _fixings(tie, fixing_count(recipe)),
        SundryLine(item="curling ribbon", quantity=_tenths_up(anchors * c.TIE_M.value), unit="m"),
        SundryLine(item="packing bag", quantity=whole_up(packed_m3 / bag_m3), unit="each"),
    )
    return tuple(line for line in lines if line.quantity)


def _fixings(tie: str, count: int) -> SundryLine:
    if tie == "fishing line":
        metres = _tenths_up(count * c.LINE_PER_FIXING_M.value)
        return SundryLine(item=tie, quantity=metres, unit="m")
    return SundryLine(item=tie, quantity=count, unit="each")


def _tenths_up(metres: float) -> float:
    return ceil(metres * 10 - 1e-9) / 10
