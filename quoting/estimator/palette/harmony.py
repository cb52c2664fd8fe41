"""Colours that go with one colour, by their place on the hue circle."""

from dataclasses import dataclass
from typing import Final

from coloraide import Color

from .light import to_hex

# Classic schemes in coloraide's terms; the hue turns are its own: 30, 180 and 120 degrees.
_SCHEMES: Final = (
    ("neighbour", "analogous"),
    ("opposite", "complement"),
    ("three-way", "triad"),
)
# OKLCh: below this there is no hue to speak of; a grey goes with every colour.
_GREY_BELOW: Final = 0.01


@dataclass(frozen=True, kw_only=True)
class Harmony:
    """`hexes` begins with the colour that was asked about."""

    name: str
    hexes: tuple[str, ...]


def harmonies(hex_value: str) -> tuple[Harmony, ...]:
    """Turned in OKLCh at the same lightness, and brought within what a screen can show.

    Empty for a grey, black or white, which has no hue to turn.
    """
    colour = Color(hex_value).convert("oklch")
    if colour["chroma"] < _GREY_BELOW:
        return ()
    return tuple(
        Harmony(name=name, hexes=(to_hex(colour), *_others(colour, scheme)))
        for name, scheme in _SCHEMES
    )


def _others(colour: Color, scheme: str) -> tuple[str, ...]:
    turned = colour.harmony(scheme, space="oklch")
    own = colour["hue"]
    return tuple(to_hex(each) for each in turned if abs(each["hue"] - own) > 1)
