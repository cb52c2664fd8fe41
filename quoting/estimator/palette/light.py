"""Colours of many pixels at once: sRGB, light itself, OKLab.

Single colours go through coloraide; these arrays only exist because a photo has too many
pixels for it. The tests hold the two against each other.
"""

from functools import cache
from typing import Final

import numpy as np
from coloraide import Color
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Lab = tuple[float, float, float]

# IEC 61966-2-1 (sRGB): straight near black, a power above.
_STRAIGHT_TO: Final = 0.04045
_SLOPE: Final = 12.92

# B. Ottosson, "A perceptual color space for image processing", 2020: linear sRGB to cone
# responses, then their cube roots to lightness, green-red and blue-yellow.
_TO_CONES: Final = np.array(
    [
        [0.4122214708, 0.5363325363, 0.0514459929],
        [0.2119034982, 0.6806995451, 0.1073969566],
        [0.0883024619, 0.2817188376, 0.6299787005],
    ]
)
_TO_OKLAB: Final = np.array(
    [
        [0.2104542553, 0.7936177850, -0.0040720468],
        [1.9779984951, -2.4285922050, 0.4505937099],
        [0.0259040371, 0.7827717662, -0.8086757660],
    ]
)


def linear_light(codes: NDArray[np.uint8]) -> Floats:
    """8-bit sRGB to linear light, 0 to 1, same shape."""
    return _light_of_code()[codes]


@cache
def _light_of_code() -> Floats:
    encoded = np.arange(256) / 255
    curved = ((encoded + 0.055) / 1.055) ** 2.4
    return np.where(encoded <= _STRAIGHT_TO, encoded / _SLOPE, curved)


def oklab(light: Floats) -> Floats:
    """(n, 3) linear light to (n, 3) OKLab."""
    return np.cbrt(light @ _TO_CONES.T) @ _TO_OKLAB.T


def hex_of_light(light: Floats) -> str:
    """Linear light of one colour, such as an average, to `#rrggbb`."""
    return to_hex(Color("srgb-linear", light.tolist()))


def hex_of_oklab(values: Floats) -> str:
    return to_hex(Color("oklab", values.tolist()))


def to_hex(colour: Color) -> str:
    """The nearest that a screen can show, at the same lightness and hue."""
    shown = colour.convert("oklch").fit("srgb", method="raytrace", pspace="oklch")
    return shown.convert("srgb").clip().to_string(hex=True)
