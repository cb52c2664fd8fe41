"""Air inside and room when packed."""

from collections.abc import Iterable

from . import constants as c
from .filling import balloon_volume
from .recipe import Needed


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
