"""Constants of the picture, with unit and provenance as in the estimator's own."""

from dataclasses import dataclass
from typing import Final

from ..constants import DERIVED, FROM_MEMORY, Constant

# The same cone as the estimator's volume of a foil point.
FOIL_POINT_WIDTH_M = Constant(0.09, "m", FROM_MEMORY, 0.05, 0.12, "a foil point at its widest")
FOIL_POINT_LENGTH_M = Constant(0.24, "m", FROM_MEMORY, 0.15, 0.35, "from its neck to its tip")
FOIL_POINT_WIDEST: Final = 0.38  # of its length, from the neck

NECK_SLACK = Constant(
    1.2, "radii", FROM_MEMORY, 0.5, 1.5, "a neck and its string, beyond half the width"
)
STANDS_PROUD = Constant(
    0.15,
    "radii",
    DERIVED,
    0.05,
    0.2,
    "edges scallop: to be W wide on average, rounds reach a little beyond",
)


@dataclass(frozen=True)
class Hung:
    """A large single's centre, in radii beyond the edge, and its turn from the viewer."""

    beyond: Constant
    turn: float


SINGLE_FREE = Hung(Constant(0.6, "radii", FROM_MEMORY, 0.0, 1.0, "tied behind the edge"), 2.2)
SINGLE_ON_WALL = Hung(Constant(0.9, "radii", FROM_MEMORY, 0.0, 1.0, "no room behind"), 1.57)
