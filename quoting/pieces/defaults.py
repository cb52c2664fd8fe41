"""What a piece is until the owner says otherwise: shapes with usual sizes, fullness, mixes.

All of it is common practice, no source, unless a source is named beside it: a start to type over.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from decor.display import METRES_PER_FOOT, METRES_PER_INCH
from decor.models.business import Units


@dataclass(frozen=True)
class UsualLength:
    """A length that is round in either unit, so not quite the same in both."""

    feet: float
    metres: float

    def in_metres(self, units: str) -> float:
        return self.metres if units == Units.METRIC else self.feet * METRES_PER_FOOT


@dataclass(frozen=True)
class Dimension:
    """One length that a shape asks for. `spec_key` is its name in the spec's path."""

    field: str
    spec_key: str
    label: str


@dataclass(frozen=True)
class PathKind:
    key: str
    word: str
    dimensions: tuple[Dimension, ...]


@dataclass(frozen=True)
class ShapePreset:
    """A common use of a path kind; `usual` follows the kind's dimensions."""

    key: str
    label: str
    kind: str
    usual: tuple[UsualLength, ...]
    backing: str
    why: str


POINTS_FIELD: Final = "drape_points"

PATH_KINDS: Final = {
    kind.key: kind
    for kind in (
        PathKind("line", "straight line", (Dimension("line_length", "length_m", "Length"),)),
        PathKind(
            "arch",
            "arch",
            (
                Dimension("arch_width", "width_m", "Width at the ground"),
                Dimension("arch_height", "height_m", "Height in the middle"),
            ),
        ),
        PathKind(
            "posts",
            "up, across and down",
            (
                Dimension("posts_width", "width_m", "Width across"),
                Dimension("posts_height", "height_m", "Height of the posts"),
            ),
        ),
        PathKind(
            "swag",
            "hanging swag",
            (
                Dimension("swag_span", "span_m", "Between the two ends"),
                Dimension("swag_sag", "sag_m", "How far it hangs down"),
            ),
        ),
        PathKind("ring", "ring", (Dimension("ring_diameter", "diameter_m", "Across the ring"),)),
        PathKind("drape", "from point to point", ()),
    )
}

SHAPES: Final = {
    shape.key: shape
    for shape in (
        ShapePreset(
            "doorway_arch",
            "Doorway arch",
            "arch",
            (UsualLength(4, 1.2), UsualLength(7.5, 2.3)),
            "flat",
            "a door of 3 ft by 6 ft 8 in with room around it",
        ),
        ShapePreset(
            "walk_arch",
            "Walk-through arch",
            "arch",
            (UsualLength(8, 2.4), UsualLength(8, 2.4)),
            "free",
            "two people side by side",
        ),
        ShapePreset(
            "porch_swag",
            "Porch rail swag",
            "swag",
            (UsualLength(6, 1.8), UsualLength(1.5, 0.45)),
            "free",
            "one bay between two porch posts",
        ),
        ShapePreset(
            "window_line",
            "Shop window line",
            "line",
            (UsualLength(8, 2.4),),
            "flat",
            "one pane of a shop front",
        ),
        ShapePreset(
            "table_line",
            "Table line",
            "line",
            (UsualLength(6, 1.8),),
            "flat",
            "along the front of a trestle table",
        ),
        ShapePreset(
            "entrance_posts",
            "Entrance posts",
            "posts",
            (UsualLength(10, 3.0), UsualLength(8, 2.4)),
            "free",
            "a gate or finish line that people walk through",
        ),
        ShapePreset(
            "backdrop_ring",
            "Backdrop ring",
            "ring",
            (UsualLength(6.5, 2.0),),
            "free",
            "a hoop stand behind a cake table",
        ),
        ShapePreset(
            "drape",
            "Point to point",
            "drape",
            (),
            "free",
            "over a railing, around a post, along a bush",
        ),
    )
}
FIRST_SHAPE: Final = "doorway_arch"

# Across and up from the left foot: up one post, over, half down the other.
USUAL_POINTS: Final = {
    Units.IMPERIAL: ((0, 0), (0, 7), (6, 7), (6, 3)),
    Units.METRIC: ((0, 0), (0, 2.1), (1.8, 2.1), (1.8, 0.9)),
}


@dataclass(frozen=True)
class Fullness:
    """Widths at the ends and in the middle, the share of 17-inch, large singles per metre.

    With these widths a straight garland has about 4½, 6 and 9 balloons a foot; what others
    publish for organic garlands is beside tests/quoting/pieces/test_defaults.py.
    """

    key: str
    label: str
    about: str
    ends: UsualLength
    middle: UsualLength
    share_of_17: float
    singles: str


FULLNESS: Final = {
    fullness.key: fullness
    for fullness in (
        Fullness(
            "slim",
            "Slim",
            "a neat single strip",
            UsualLength(1, 0.30),
            UsualLength(16 / 12, 0.40),
            0.0,
            "none",
        ),
        Fullness(
            "full",
            "Full",
            "what most people picture",
            UsualLength(1.5, 0.45),
            UsualLength(2.5, 0.75),
            0.15,
            "usual",
        ),
        Fullness(
            "lush",
            "Lush",
            "deep and generous",
            UsualLength(22 / 12, 0.55),
            UsualLength(38 / 12, 0.95),
            0.25,
            "usual",
        ),
    )
}
FIRST_FULLNESS: Final = "full"


@dataclass(frozen=True)
class Amount:
    """How many of something, as a word with its number; the number's unit is the table's."""

    key: str
    label: str
    number: float


# Mini-clusters per m2 of face: 1.25 is from memory, and practice ranges widely.
FILLERS: Final = {
    amount.key: amount
    for amount in (
        Amount("none", "None", 0),
        Amount("few", "A few", 0.6),
        Amount("usual", "The usual", 1.25),
        Amount("plenty", "Plenty", 2.5),
    )
}
FIRST_FILLERS: Final = "usual"
# 24-inch singles per metre of path.
SINGLES: Final = {
    amount.key: amount
    for amount in (
        Amount("none", "None", 0),
        Amount("few", "A few", 0.45),
        Amount("usual", "The usual", 0.9),
        Amount("plenty", "Plenty", 1.4),
    )
}

FILLER_NOMINAL_IN: Final = 5.0
SINGLE_NOMINAL_IN: Final = 24.0
SMALL_BASE_IN: Final = 11.0
LARGE_BASE_IN: Final = 17.0

# Inflated inches by nominal size: apart enough to look gathered rather than machine made.
INFLATED_IN: Final = {5.0: (3.5, 4.5), 11.0: (6.0, 10.0), 17.0: (12.0, 15.0), 24.0: (18.0, 22.0)}
_LEAST_OF_NOMINAL, _MOST_OF_NOMINAL = 0.6, 0.9

ACCENT_SHARE: Final = 0.08
ACCENT_INFLATED_IN: Final = (6.0, 9.0)
ACCENT_BUNCH: Final = 4
CLUSTER_OF: Final = 8
# Widths of one's own along the way, beside those of the ends and the middle.
STATION_ROWS: Final = 6
CREW: Final = 1
CONFIDENCE: Final = 0.95
MADE_AT_C: Final = 21.0


def usual_inflation(nominal_in: float) -> tuple[float, float]:
    if nominal_in in INFLATED_IN:
        return INFLATED_IN[nominal_in]
    return round(nominal_in * _LEAST_OF_NOMINAL, 1), round(nominal_in * _MOST_OF_NOMINAL, 1)


def usual_mix(fullness: str, nominals: Iterable[float]) -> dict[float, float]:
    """Share by count of each size, from the sizes that every chosen colour comes in.

    11-inch with some 17-inch. Where that is not to be had, whatever is nearest to 11-inch.
    """
    stocked = set(nominals)
    if not stocked:
        return {SMALL_BASE_IN: 1.0}
    if SMALL_BASE_IN not in stocked:
        return {min(stocked, key=lambda nominal: abs(nominal - SMALL_BASE_IN)): 1.0}
    large = FULLNESS[fullness].share_of_17
    if not large or LARGE_BASE_IN not in stocked:
        return {SMALL_BASE_IN: 1.0}
    return {SMALL_BASE_IN: round(1 - large, 3), LARGE_BASE_IN: large}


def usual_singles(fullness: str, width: Sequence[Sequence[float]]) -> str:
    """None where the garland is slimmer than they are: they would be all of it."""
    steps = pairwise(width)
    mean_m = sum((to - at) * (one + other) / 2 for (at, one), (to, other) in steps)
    is_slimmer = mean_m < sum(INFLATED_IN[SINGLE_NOMINAL_IN]) / 2 * METRES_PER_INCH
    return "none" if is_slimmer else FULLNESS[fullness].singles


def usual_dimensions(shape: ShapePreset, units: str) -> dict[str, float]:
    """Metres by form field."""
    dimensions = PATH_KINDS[shape.kind].dimensions
    return {
        dimension.field: usual.in_metres(units)
        for dimension, usual in zip(dimensions, shape.usual, strict=True)
    }


def usual_points(units: str) -> tuple[tuple[float, float, float], ...]:
    """Points in metres: along the front, away from the viewer, up."""
    scale = 1.0 if units == Units.METRIC else METRES_PER_FOOT
    return tuple((across * scale, 0.0, up * scale) for across, up in USUAL_POINTS[units])


def usual_points_text(units: str) -> str:
    """The same as one would type them."""
    unit = "m" if units == Units.METRIC else "ft"
    return "\n".join(f"{across:g} {unit}, {up:g} {unit}" for across, up in USUAL_POINTS[units])
