"""What warmth and cold do to latex and to foil between making and hanging."""

from dataclasses import dataclass

from .. import constants as c
from ..luminance import relative_luminance


def diameter_at(diameter: float, *, from_c: float, to_c: float) -> float:
    """d2 = d1 (T2 / T1)^(1/3) in kelvin: latex at near constant pressure, its pull ignored."""
    return diameter * volume_ratio(from_c=from_c, to_c=to_c) ** (1 / 3)


def volume_ratio(*, from_c: float, to_c: float) -> float:
    """V2 / V1 = T2 / T1 in kelvin, at constant pressure (Charles's law)."""
    return (to_c + c.KELVIN_AT_0_C) / (from_c + c.KELVIN_AT_0_C)


@dataclass(frozen=True)
class FoilChange:
    """Foil keeps its skin: less air shows as slack, more as strain. Shares of its volume."""

    slack: float
    strain: float


def foil_change(*, from_c: float, to_c: float) -> FoilChange:
    change = volume_ratio(from_c=from_c, to_c=to_c) - 1
    return FoilChange(slack=max(0.0, -change), strain=max(0.0, change))


@dataclass(frozen=True)
class Life:
    """Hours outdoors until a garland no longer looks its best."""

    hours: float
    low: float
    high: float
    provenance: str


def expected_life(site_c: float) -> Life:
    """About a day, less in heat and more in the cold (common practice, no source)."""
    if site_c >= c.HOT_C.value:
        rule = c.LIFE_HOT_H
    elif site_c < c.COOL_C.value:
        rule = c.LIFE_COOL_H
    else:
        rule = c.LIFE_MILD_H
    return Life(hours=rule.value, low=rule.low, high=rule.high, provenance=rule.provenance)


def is_dark(hex_value: str) -> bool:
    """Whether a colour soaks up the sun: darker than mid grey."""
    return relative_luminance(hex_value) < c.DARK_LUMINANCE.value
