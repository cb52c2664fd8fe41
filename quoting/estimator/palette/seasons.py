"""Palettes to begin from, by season: our own, names and colour values alike.

Each is chosen so that its colours are kept apart for common colour-vision deficiencies;
that is why light and dark alternate in them. A test holds it.
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import Final


class Season(StrEnum):
    SPRING = "spring"
    SUMMER = "summer"
    AUTUMN = "autumn"
    WINTER = "winter"


@dataclass(frozen=True, kw_only=True)
class NamedColour:
    name: str
    hex: str


@dataclass(frozen=True, kw_only=True)
class SeasonalPalette:
    season: Season
    name: str
    colours: tuple[NamedColour, ...]


_PALETTES: Final = (
    (Season.SPRING, "Hedge bank", {
        "cow parsley": "#f4f1e6", "primrose bank": "#f2df8a", "dog violet": "#8d7fb8",
        "new nettle": "#4f7a45",
    }),
    (Season.SPRING, "Orchard gate", {
        "petal fall": "#f6dfe2", "wet bark": "#5a4a44", "orchard pink": "#dd8fa3",
        "first leaf": "#b9cf8e",
    }),
    (Season.SUMMER, "Long evening", {
        "bleached rope": "#efe6d2", "late sun": "#f0a24b", "harbour blue": "#2f6f93",
        "beach rose": "#c2506b",
    }),
    (Season.SUMMER, "Row of tents", {
        "canvas": "#f3ead7", "sharp lemon": "#efc52f", "paddling pool": "#58b5c4",
        "cherry stone": "#9e2f3c",
    }),
    (Season.AUTUMN, "Stubble field", {
        "straw end": "#e6cf97", "rowan": "#b5452f", "ploughed earth": "#4c382e",
        "low mist": "#aab3b5",
    }),
    (Season.AUTUMN, "Market stall", {
        "pumpkin rind": "#db7f2c", "damson skin": "#47304f", "mushroom cap": "#d8c8b4",
        "old medlar": "#8a6a3d",
    }),
    (Season.WINTER, "First frost", {
        "hoar": "#eef3f5", "steel pond": "#7f98a6", "midnight blue wool": "#22314f",
        "robin": "#c2573a",
    }),
    (Season.WINTER, "Lit window", {
        "candle end": "#f7edcf", "lamp brass": "#c79a3e", "ivy wall": "#1f4033",
        "mulled berry": "#b8435a",
    }),
)  # fmt: skip


def seasonal_palettes() -> tuple[SeasonalPalette, ...]:
    """In the order of the year."""
    return tuple(
        SeasonalPalette(
            season=season,
            name=name,
            colours=tuple(NamedColour(name=each, hex=value) for each, value in colours.items()),
        )
        for season, name, colours in _PALETTES
    )
