"""The Beaufort scale of the World Meteorological Organization: a number and name for a wind.

The scale is made for the mean wind; a gust is named here by the wind that it briefly is.
"""

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True)
class Beaufort:
    """`up_to_mps` is the fastest wind of this number, as the table prints it to one decimal."""

    number: int
    name: str
    up_to_mps: float
    on_land: str


# WMO Manual on Codes and NASA Quest print the same limits; signs on land shortened.
SCALE: Final = (
    Beaufort(0, "calm", 0.2, "smoke rises straight up"),
    Beaufort(1, "light air", 1.5, "smoke drifts"),
    Beaufort(2, "light breeze", 3.3, "wind is felt on the face and leaves rustle"),
    Beaufort(3, "gentle breeze", 5.4, "leaves and small twigs keep moving"),
    Beaufort(4, "moderate breeze", 7.9, "dust rises and small branches move"),
    Beaufort(5, "fresh breeze", 10.7, "small trees in leaf sway"),
    Beaufort(6, "strong breeze", 13.8, "umbrellas are hard to hold"),
    Beaufort(7, "near gale", 17.1, "whole trees move and walking is hard"),
    Beaufort(8, "gale", 20.7, "twigs break off"),
    Beaufort(9, "strong gale", 24.4, "slates and chimney pots come down"),
    Beaufort(10, "storm", 28.4, "trees are uprooted"),
    Beaufort(11, "violent storm", 32.6, "damage is widespread"),
    Beaufort(12, "hurricane force", float("inf"), "devastation"),
)


def beaufort(speed_mps: float) -> Beaufort:
    """The table's gaps of 0.1 m/s belong to the wind they round to."""
    tenths = round(speed_mps, 1)
    return next(force for force in SCALE if tenths <= force.up_to_mps)
