"""What a gust does to a piece: pressure, force, and the ties that it takes."""

from dataclasses import dataclass
from math import ceil

from .. import constants as c


@dataclass(frozen=True, kw_only=True)
class Wind:
    """Pressure of the gust, its force on the whole face, and how many anchors share it."""

    pressure_pa: float
    force_n: float
    anchors: int

    @property
    def force_per_anchor_n(self) -> float:
        return self.force_n / self.anchors


def wind_pressure(gust_mps: float) -> float:
    """q = 0.613 V^2 in Pa (ASCE 7)."""
    return c.AIR_PRESSURE_FACTOR.value * gust_mps**2


def wind_force(*, gust_mps: float, face_m2: float) -> float:
    """F = q C A in N."""
    return wind_pressure(gust_mps) * c.DRAG.value * face_m2


def wind_on(*, gust_mps: float, face_m2: float, anchors: int) -> Wind:
    return Wind(
        pressure_pa=wind_pressure(gust_mps),
        force_n=wind_force(gust_mps=gust_mps, face_m2=face_m2),
        anchors=anchors,
    )


def anchors_for(force_n: float, tie_strength_n: float) -> int:
    """The fewest ties of that working load which hold the force, shared evenly."""
    return ceil(force_n / tie_strength_n - 1e-9)


def wind_chill(temperature_c: float, wind_mps: float) -> float | None:
    """US National Weather Service, 2001, in deg C; None where the formula does not hold.

    It is made for 50 deg F and colder in winds of 3 mph and more.
    """
    fahrenheit = temperature_c * 1.8 + 32
    mph = wind_mps / c.MPS_PER_MPH
    if fahrenheit > 50 or mph < 3:
        return None
    chilled = 35.74 + 0.6215 * fahrenheit + (0.4275 * fahrenheit - 35.75) * mph**0.16
    return (chilled - 32) / 1.8
