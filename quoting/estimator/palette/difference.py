"""How far apart two colours look: CIEDE2000, and in words.

The formula is coloraide's, in CIELAB under D65; see G. Sharma, W. Wu, E. Dalal, *Color
Research & Application* 30(1), 2005.
"""

from enum import StrEnum
from functools import lru_cache
from typing import Final

from coloraide import Color

from .light import Lab

# W. Mokrzycki, M. Tatol, "Colour difference delta E: a survey", 2011: up to 2 only an
# experienced observer sees a difference, beyond 5 anybody sees two different colours. They
# speak of the older formula, which CIEDE2000 stays below for strong colours: so "same" is
# a little generous there.
SAME_UP_TO: Final = 2.0
NEAR_UP_TO: Final = 5.0

# Own choice, no source: balloons lie apart, in uneven light, and are seen across a room,
# so that twice the difference is asked for which shows side by side.
TOLD_APART_FROM: Final = 2 * NEAR_UP_TO


class Nearness(StrEnum):
    SAME = "same to the eye"
    NEAR = "near"
    FAR = "far"


def nearness(delta_e: float) -> Nearness:
    if delta_e <= SAME_UP_TO:
        return Nearness.SAME
    return Nearness.NEAR if delta_e <= NEAR_UP_TO else Nearness.FAR


def delta_e(first: Lab, second: Lab) -> float:
    """CIEDE2000 of two CIELAB colours."""
    one, other = Color("lab-d65", first), Color("lab-d65", second)
    return float(one.delta_e(other, method="2000"))


@lru_cache(maxsize=4096)
def lab_of_hex(hex_value: str) -> Lab:
    return lab_of(Color(hex_value))


def lab_of(colour: Color) -> Lab:
    lightness, a, b = colour.convert("lab-d65").coords(nans=False)
    return lightness, a, b
