"""An item's own colour, measured from a photo of it."""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from ..problems import Problem
from .difference import NEAR_UP_TO, delta_e, lab_of_hex
from .light import Floats, hex_of_light, linear_light
from .photo import PhotoSource, open_photo
from .problems import PhotoError

SMALLEST_SIDE_PX: Final = 8
_BLOCKS: Final = 8
_FULL: Final = 254  # of 255: a camera stops counting here
_DARK: Final = 12  # of 255: below some 0.4 % of the light, noise and haze are what is left
# Own choices, no source.
CLIPPED_UP_TO: Final = 0.02
UNEVEN_FROM: Final = NEAR_UP_TO

GLARE: Final = "part of the area is glare: pick a place without a highlight"
TOO_BRIGHT: Final = (
    "the whole area is as bright as the camera can tell: if it is no pure white or bright "
    "colour, take the photo again with less light"
)
TOO_DARK: Final = "the area is nearly black: take the photo again in more light"
UNEVEN: Final = "the area is uneven: pick a place of one colour in even light"


@dataclass(frozen=True, kw_only=True)
class Box:
    """Pixels of the upright photo; right and bottom are the first outside."""

    left: int
    top: int
    right: int
    bottom: int


@dataclass(frozen=True, kw_only=True)
class MeasuredColour:
    """`spread`: mean CIEDE2000 of 64 parts of the area from the whole; shares are 0 to 1.

    A camera's idea of white is in it: take the photo by daylight, away from coloured walls.
    """

    hex: str
    spread: float
    clipped_share: float
    warnings: tuple[str, ...]


def measured_colour(photo: PhotoSource, box: Box) -> MeasuredColour:
    """Averaged in linear light, as light itself adds up, and not in the file's codes."""
    upright = open_photo(photo).convert("RGB")
    problems = _problems(box, upright.size)
    if problems:
        raise PhotoError(problems)
    codes = np.asarray(upright.crop((box.left, box.top, box.right, box.bottom)))
    light = linear_light(codes)
    hex_value = hex_of_light(light.mean(axis=(0, 1)))
    spread = _spread(light, hex_value)
    clipped = float((codes.max(axis=2) >= _FULL).mean())
    return MeasuredColour(
        hex=hex_value,
        spread=spread,
        clipped_share=clipped,
        warnings=_warnings(codes, spread, clipped),
    )


def _problems(box: Box, size: tuple[int, int]) -> list[Problem]:
    sides = (
        ("across", box.left, box.right, size[0]),
        ("down", box.top, box.bottom, size[1]),
    )
    return [
        Problem("box", f"must lie within the photo, 0 to {length} {way}, {low} to {high} does not")
        if not 0 <= low <= length or not 0 <= high <= length
        else Problem("box", f"must be at least {SMALLEST_SIDE_PX} pixels {way}")
        for way, low, high, length in sides
        if low < 0 or not (low + SMALLEST_SIDE_PX <= high <= length)
    ]


def _spread(light: Floats, hex_value: str) -> float:
    """By parts and not by pixels, so that a camera's noise is not taken for unevenness."""
    whole = lab_of_hex(hex_value)
    parts = (
        column
        for row in np.array_split(light, _BLOCKS, axis=0)
        for column in np.array_split(row, _BLOCKS, axis=1)
    )
    distances = [delta_e(lab_of_hex(hex_of_light(part.mean(axis=(0, 1)))), whole) for part in parts]
    return float(np.mean(distances))


def _warnings(codes: NDArray[np.uint8], spread: float, clipped: float) -> tuple[str, ...]:
    all_bright = clipped > 1 - CLIPPED_UP_TO
    return tuple(
        words
        for words, holds in (
            (TOO_BRIGHT, all_bright),
            (GLARE, clipped > CLIPPED_UP_TO and not all_bright),
            (TOO_DARK, float(codes.max(axis=2).mean()) < _DARK),
            (UNEVEN, spread >= UNEVEN_FROM),
        )
        if holds
    )
