"""Every constant of the model: value, unit, where it comes from, and its good range.

Provenance is one of: derived (geometry, or a simulation we ran), common practice with
no source, from memory (nobody has looked it up), or a published source by name. What
differs between makers is only a default here, which the business's own rates replace.
"""

from dataclasses import dataclass
from math import pi
from typing import Final

DERIVED: Final = "derived"
COMMON_PRACTICE: Final = "common practice, no source"
FROM_MEMORY: Final = "from memory"


@dataclass(frozen=True)
class Constant:
    value: float
    unit: str
    provenance: str
    low: float
    high: float
    why: str = ""


# Units
METRES_PER_MILE: Final = 1609.344  # exact: the same agreement
METRES_PER_INCH: Final = 0.0254  # exact: international yard and pound agreement, 1959
KELVIN_AT_0_C: Final = 273.15  # exact by definition
SECONDS_PER_HOUR: Final = 3600
MPS_PER_MPH: Final = 0.44704  # exact: 1609.344 m in 3600 s

# Filling
FILL = Constant(
    0.70,
    "of the envelope",
    DERIVED,
    0.685,
    0.715,
    "soft-sphere simulation of balloons tied in fours and eights on a spine",
)
FILL_SPREAD = Constant(
    0.015, "of the envelope", DERIVED, 0.0, 0.015, "spread of the same simulation"
)
INFLATION_SPREAD = Constant(
    0.05, "of the diameter", FROM_MEMORY, 0.0, 0.05, "sizing by hand; count goes as d^-3"
)
FLAT_BACKING = Constant(
    0.85,
    "of the free-standing volume",
    DERIVED,
    0.80,
    0.88,
    "relaxed spheres with a wall behind, widths 0.45 to 0.75 m",
)
RANDOM_CLOSE_PACKING = Constant(0.64, "of the envelope", "MathWorld, Sphere Packing", 0.64, 0.64)
DENSEST_PACKING = Constant(
    pi / 18**0.5, "of the envelope", "MathWorld, Sphere Packing", 0.7404, 0.7405
)
LOOSE_PACKING = Constant(0.60, "of the bag", "textbook value of random loose packing", 0.55, 0.64)
NESTED_QUAD_WIDTH = Constant(
    2.14, "diameters", DERIVED, 2.0, 2.42, "fours turned by 45 degrees and nested"
)

# Recipe
MINIS_PER_M2 = Constant(
    1.25, "mini-clusters per m2 of face", FROM_MEMORY, 0.5, 4.0, "practice ranges widely"
)
MINI_SIZE = Constant(12, "balloons", COMMON_PRACTICE, 12, 12, "three quads")
SINGLES_PER_M = Constant(0.9, "per m of path", COMMON_PRACTICE, 0.0, 1.5, "a full garland")
ACCENT_BUNCH = Constant(4, "balloons", COMMON_PRACTICE, 3, 5)
ACCENT_NOMINAL_IN: Final = 11.0
STARBURST_POINTS = Constant(
    12, "foil points", COMMON_PRACTICE, 12, 12, "six pairs, twisted at the middle"
)
FOIL_POINT_M3 = Constant(
    0.0005, "m3", FROM_MEMORY, 0.0002, 0.0012, "a cone about 0.09 m across and 0.24 m long"
)

# Spares
LOSS_LATEX = Constant(
    0.04,
    "of the balloons",
    "720 bought, 690 placed, 4.2 %: an engineer's blog, 2005",
    0.01,
    0.10,
)
LOSS_LARGE = Constant(0.08, "of the balloons", COMMON_PRACTICE, 0.02, 0.20, "24-inch and up")
LOSS_FOIL = Constant(
    0.12, "of the points", COMMON_PRACTICE, 0.08, 0.17, "one or two fail in a dozen"
)
LARGE_NOMINAL_IN: Final = 24.0
CONFIDENCE = Constant(0.95, "chance of enough", COMMON_PRACTICE, 0.80, 0.99)

# Sundries
BANDS_PER_STARBURST: Final = 2
LINE_PER_FIXING_M = Constant(0.5, "m", FROM_MEMORY, 0.3, 1.0, "fishing line in place of a band")
TIE_M = Constant(0.6, "m per anchor", COMMON_PRACTICE, 0.4, 1.0)
ANCHOR_SPACING_OUTDOORS_M = Constant(0.6, "m", COMMON_PRACTICE, 0.3, 0.6)
ANCHOR_CLOSEST_M = Constant(
    0.3, "m", FROM_MEMORY, 0.15, 0.4, "ties closer than this share no more load: use stronger ones"
)
ANCHOR_SPACING_INDOORS_M = Constant(1.0, "m", COMMON_PRACTICE, 0.5, 1.0)
EXTRA_LOW_TIES_OUTDOORS = Constant(
    2, "ties", COMMON_PRACTICE, 2, 4, "a single low tie lets wind twist the whole piece"
)

# Air, heat, wind
AIR_PRESSURE_FACTOR = Constant(
    0.613, "Pa per (m/s)^2", "ASCE 7: q = 0.613 V^2, half the density of air", 0.613, 0.613
)
DRAG = Constant(1.2, "of the face", "handbook, a rough cylinder", 0.07, 1.28)
COLD_C = Constant(4, "deg C", COMMON_PRACTICE, 2, 7, "latex softens, necks stiffen")
HOT_C = Constant(27, "deg C", FROM_MEMORY, 25, 32, "where makers begin to size down")
HOT_11_INCH_MAX_IN = Constant(
    7.5, "in", "trade article on outdoor work: 11-inch to at most 7.5 in sun and heat", 7, 8
)
COOL_C = Constant(15, "deg C", FROM_MEMORY, 10, 18, "below it balloons keep longer")
LIFE_HOT_H = Constant(
    8, "h", COMMON_PRACTICE, 2, 12, "a day's heat and sun, an event and not a night"
)
LIFE_MILD_H = Constant(24, "h", COMMON_PRACTICE, 12, 48, "about a day outdoors")
LIFE_COOL_H = Constant(36, "h", COMMON_PRACTICE, 24, 72, "cool latex keeps longer")
DARK_LUMINANCE = Constant(
    0.1841, "of white", "CIE 1976 L* = 50, mid grey", 0.1, 0.22, "darker colours soak up the sun"
)
COLD_WORK_C = Constant(5, "deg C", FROM_MEMORY, 0, 8, "hands slow below this")
LADDER_ABOVE_M = Constant(2.4, "m", FROM_MEMORY, 2.0, 2.7, "reach from the ground")
SMALL_VAN_M3 = Constant(
    2.97, "m3", "104.8 cubic feet: a maker's figure for a short small van", 0.5, 12
)

# How far a job may fall from its estimate
TIME_SPREAD = Constant(
    0.25, "of the time", FROM_MEMORY, 0.1, 0.5, "eight jobs of ten take no more than this beyond"
)
DRIVE_SPREAD = Constant(0.20, "of the drive", FROM_MEMORY, 0.1, 0.5, "traffic")

# Limits of what is accepted at all
PATH_M: Final = (0.3, 100.0)
WIDTH_M: Final = (0.1, 3.0)
DIMENSION_M: Final = (0.01, 100.0)
POINT_M: Final = (-200.0, 200.0)
NOMINAL_IN: Final = (3.0, 40.0)
SMALLEST_INFLATION = Constant(
    1 / 3, "of the nominal size", FROM_MEMORY, 0.3, 0.5, "smaller stays thick and slack"
)
MOST_BASE_BALLOONS: Final = 150_000  # 100 m, 3 m wide, of small 11-inch is 110 000
SHARE_SLACK: Final = 0.001  # so that 0.333 three times counts as one
