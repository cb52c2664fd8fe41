"""From one colour to the tints of a lit, round, latex or foil surface."""

import re
from dataclasses import dataclass
from typing import Final, Literal

from coloraide import Color

Finish = Literal["plain", "pearl", "shiny", "clear"]

UNKNOWN: Final = "#b9b2a5"
_HEX: Final = re.compile(r"#[0-9a-fA-F]{6}")
# How much of its lightness a balloon deep inside keeps, where little light comes.
_DEEP_KEEPS: Final = 0.84
_INK: Final = 0.23


@dataclass(frozen=True)
class Tints:
    """sRGB hex: from the lit side to the far rim, and the outline."""

    lit: str
    near: str
    body: str
    far: str
    rim: str
    outline: str


def usable_hex(value: str | None) -> str:
    """A colour as #rrggbb; anything else is shown in a neutral grey."""
    return value.lower() if value and _HEX.fullmatch(value) else UNKNOWN


def tints(hex_value: str, *, shade: float = 0.0, finish: Finish = "plain") -> Tints:
    """`shade` from 0, in full light, to 1, deep inside."""
    lightness, chroma, hue = Color(hex_value).convert("oklch").coords(nans=False)
    keeps = 1 - (1 - _DEEP_KEEPS) * shade
    contrast = {"plain": 1.0, "pearl": 1.25, "shiny": 1.5, "clear": 0.8}[finish]

    def tone(up: float, richness: float) -> str:
        """`up` above 0 goes that part of the way to white, below 0 to ink."""
        up *= contrast
        aim = 1.0 if up > 0 else _INK
        lit = lightness + abs(min(max(up, -1), 1)) * (aim - lightness)
        return _hex(lit * keeps, chroma * richness, hue)

    return Tints(
        lit=tone(0.6, 0.5),
        near=tone(0.22, 0.9),
        body=tone(0.0, 1.0),
        far=tone(-0.2, 1.06),
        rim=tone(-0.3, 1.0),
        outline=_hex(max(lightness * 0.55, 0.2) * keeps, chroma * 0.8, hue),
    )


def _hex(lightness: float, chroma: float, hue: float) -> str:
    return Color("oklch", [lightness, chroma, hue]).convert("srgb").fit().to_string(hex=True)
