"""Air inside, room when packed, and what heat, cold and wind do."""

from collections.abc import Iterable
from dataclasses import dataclass

from . import constants as c
from .filling import balloon_volume
from .recipe import Needed


@dataclass(frozen=True, kw_only=True)
class Wind:
    """Pressure of the gust and its force on the whole face."""

    pressure_pa: float
    force_n: float
    anchors: int

    @property
    def force_per_anchor_n(self) -> float:
        return self.force_n / self.anchors


def air_volume(needed: Iterable[Needed]) -> float:
    """In m3, at the inflated diameters."""
    return sum(
        line.count
        * (balloon_volume(line.inflated_in) if line.inflated_in else c.FOIL_POINT_M3.value)
        for line in needed
    )


def packed_volume(air_m3: float) -> float:
    """In m3: balloons thrown into a bag pack loosely."""
    return air_m3 / c.LOOSE_PACKING.value


def wind_on(*, gust_mps: float, face_m2: float, anchors: int) -> Wind:
    """q = 0.613 V^2 and F = q C A."""
    pressure = c.AIR_PRESSURE_FACTOR.value * gust_mps**2
    return Wind(pressure_pa=pressure, force_n=pressure * c.DRAG.value * face_m2, anchors=anchors)


def diameter_at(diameter: float, *, from_c: float, to_c: float) -> float:
    """d2 = d1 (T2 / T1)^(1/3) in kelvin: latex at near constant pressure, its pull ignored."""
    ratio = (to_c + c.KELVIN_AT_0_C) / (from_c + c.KELVIN_AT_0_C)
    return diameter * ratio ** (1 / 3)
