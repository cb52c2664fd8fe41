"""Where the foot of a leaning ladder goes: one quarter of its working length out (4 to 1).

Source: Minnesota Safety Council, from the rules of OSHA. A caution beside local rules for work
at height and whoever is licensed for it, not in place of them.
"""

from math import sqrt
from typing import Final

LENGTH_TO_FOOT: Final = 4.0
ABOVE_LANDING_M: Final = 0.9144  # 3 ft: how far the rails stand above a landing it leads to


def foot_out_m(working_length_m: float) -> float:
    """From the wall to the foot; the working length is from the foot to where it rests."""
    return working_length_m / LENGTH_TO_FOOT


def rests_at_m(working_length_m: float) -> float:
    """How high the ladder rests, set at 4 to 1: the other leg of the triangle."""
    return working_length_m * sqrt(1 - 1 / LENGTH_TO_FOOT**2)


def length_to_rest_at_m(height_m: float) -> float:
    """The working length that rests so high."""
    return height_m / sqrt(1 - 1 / LENGTH_TO_FOOT**2)
