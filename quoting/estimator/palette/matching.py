"""The balloons on the shelf or in the catalogue that come closest to a colour."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from .difference import Nearness, delta_e, lab_of_hex, nearness
from .light import Lab

# Their colour value is one of many: they mirror the place they hang in.
_SHINY: Final = frozenset({"chrome", "foil", "mirror", "pearl", "metallic", "satin", "shiny"})
_IN_WORDS: Final = {
    Nearness.SAME: "same to the eye",
    Nearness.NEAR: "near: a difference shows side by side",
    Nearness.FAR: "far: plainly another colour",
}


@dataclass(frozen=True, kw_only=True)
class ShelfColour:
    """`free`: how many can be promised; None for what is in the catalogue only."""

    key: str
    name: str
    hex: str
    finish: str = ""
    free: int | None = None


@dataclass(frozen=True, kw_only=True)
class Match:
    """`enough` is None when nobody said how many are needed, or how many there are."""

    key: str
    delta_e: float
    nearness: Nearness
    in_words: str
    enough: bool | None


def match(
    colour: str | Lab,
    shelf: Sequence[ShelfColour],
    *,
    need: int | None = None,
    most: int = 3,
) -> tuple[Match, ...]:
    """Closest first, by CIEDE2000; `colour` is `#rrggbb` or CIELAB."""
    lab = lab_of_hex(colour) if isinstance(colour, str) else colour
    distances = [(delta_e(lab, lab_of_hex(each.hex)), each) for each in shelf]
    closest = sorted(distances, key=lambda pair: (pair[0], pair[1].name, pair[1].key))
    return tuple(_match(distance, each, need) for distance, each in closest[:most])


def _match(distance: float, shelf_colour: ShelfColour, need: int | None) -> Match:
    near = nearness(distance)
    counted = need is not None and shelf_colour.free is not None
    return Match(
        key=shelf_colour.key,
        delta_e=distance,
        nearness=near,
        in_words=_in_words(near, shelf_colour.finish),
        enough=shelf_colour.free >= need if counted else None,
    )


def _in_words(near: Nearness, finish: str) -> str:
    shiny = any(word in _SHINY for word in finish.lower().split())
    return _IN_WORDS[near] + (f"; {finish.lower()} changes with the light" if shiny else "")
