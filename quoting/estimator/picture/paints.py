"""Each colour's round is defined once for every depth it is seen at, and used by its name."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final

from .shading import Finish, Tints, tints, usable_hex

# Depths that differ less than this are not told apart by eye, and each costs a gradient.
_SHADES: Final = 4
# In the round's own units: some PDF viewers lose gradients that are in parts of its box.
_UNITS: Final = 'gradientUnits="userSpaceOnUse"'
_SHINE: Final[Mapping[Finish, float]] = {"plain": 0.55, "pearl": 0.7, "shiny": 0.95, "clear": 0.8}


@dataclass
class Paints:
    """`round_id` names a round of radius 100 about the origin; `defs` grows as they are used."""

    prefix: str
    colours: Mapping[str, str]
    finishes: Mapping[str, Finish]
    defs: list[str] = field(default_factory=list)
    _rounds: dict[tuple[str, int], str] = field(default_factory=dict)
    _foils: dict[str, Tints] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.defs.append(
            f'<radialGradient id="{self.prefix}shine" {_UNITS} cx="0" cy="0" r="24">'
            '<stop offset="0" stop-color="#fff"/>'
            '<stop offset=".45" stop-color="#fff" stop-opacity=".7"/>'
            '<stop offset="1" stop-color="#fff" stop-opacity="0"/></radialGradient>'
        )

    def round_id(self, colour: str, shade: float) -> str:
        level = min(int(shade * _SHADES), _SHADES - 1)
        key = (colour, level)
        if key not in self._rounds:
            self._rounds[key] = f"{self.prefix}b{len(self._rounds)}"
            self.defs.append(self._round(self._rounds[key], colour, level / (_SHADES - 1)))
        return self._rounds[key]

    def foil(self, colour: str) -> Tints:
        if colour not in self._foils:
            self._foils[colour] = tints(self._hex(colour), finish="shiny")
        return self._foils[colour]

    def _hex(self, colour: str) -> str:
        return usable_hex(self.colours.get(colour))

    def _round(self, name: str, colour: str, shade: float) -> str:
        """Shadow on what is behind, the lit round with its outline, a window's reflection."""
        finish = self.finishes.get(colour, "plain")
        found = tints(self._hex(colour), shade=shade, finish=finish)
        stops = zip(
            ("0", ".28", ".62", ".9", "1"),
            (found.lit, found.near, found.body, found.far, found.rim),
            strict=True,
        )
        opacity = ' fill-opacity=".62"' if finish == "clear" else ""
        shine = round(_SHINE[finish] * (1 - 0.6 * shade), 2)
        return (
            f'<radialGradient id="{name}g" {_UNITS} cx="-4" cy="-8" r="107" fx="-32" fy="-40">'
            + "".join(f'<stop offset="{at}" stop-color="{tint}"/>' for at, tint in stops)
            + f'</radialGradient><g id="{name}">'
            '<circle cx="1" cy="3.5" r="102" fill="#2a2118" fill-opacity=".16"/>'
            f'<circle r="99" fill="url(#{name}g)"{opacity} stroke="{found.outline}" '
            'stroke-opacity=".6" stroke-width="2"/>'
            '<circle r="24" transform="translate(-37 -45)rotate(-40)scale(1 .58)" '
            f'fill="url(#{self.prefix}shine)" fill-opacity="{shine}"/></g>'
        )
