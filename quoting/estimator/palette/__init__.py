"""Colours: of a photo, of the shelf, that go together, and that are kept apart.

Colour is never the only sign: names go with all of these on every page.
"""

from .difference import NEAR_UP_TO, SAME_UP_TO, TOLD_APART_FROM, Nearness
from .harmony import Harmony, harmonies
from .matching import Match, ShelfColour, match
from .measuring import Box, MeasuredColour, measured_colour
from .photo_colours import PhotoColour, colours_of_photo
from .problems import ColourError, PhotoError
from .seasons import NamedColour, Season, SeasonalPalette, seasonal_palettes
from .typed import parse_colour, parse_colours
from .vision import Deficiency, FallTogether, kept_apart

__all__ = [
    "NEAR_UP_TO",
    "SAME_UP_TO",
    "TOLD_APART_FROM",
    "Box",
    "ColourError",
    "Deficiency",
    "FallTogether",
    "Harmony",
    "Match",
    "MeasuredColour",
    "NamedColour",
    "Nearness",
    "PhotoColour",
    "PhotoError",
    "Season",
    "SeasonalPalette",
    "ShelfColour",
    "colours_of_photo",
    "harmonies",
    "kept_apart",
    "match",
    "measured_colour",
    "parse_colour",
    "parse_colours",
    "seasonal_palettes",
]
