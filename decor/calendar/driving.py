"""How long a drive takes: as entered, else guessed from the straight line between two places."""

import math
from dataclasses import dataclass
from enum import Enum

from decor.models import Business, Site
from decor.models.located import Coordinates, Located

EARTH_RADIUS_M = 6_371_008.8  # mean radius, IUGG 1980
# Roads are longer than the straight line: 1.417 on average over the USA (Boscoe, Henry and Zdeb,
# The Professional Geographer 64(2), 2012; from memory).
DETOUR = 1.4
# common practice, no source: town streets and country roads with a full car
SPEED_KMH = 50
ROUND_UP_TO = 5  # minutes: a guess knows no better


class Basis(Enum):
    ENTERED = "as entered"
    GUESSED = "a guess from the map"
    BY_WORKSHOP = "by way of the workshop"
    SAME_PLACE = "the same place"
    UNKNOWN = "not known"


@dataclass(frozen=True)
class Drive:
    """One way. What is not known counts as no time at all, and is said to be not known."""

    minutes: int
    basis: Basis

    @property
    def is_known(self) -> bool:
        return self.basis != Basis.UNKNOWN

    @property
    def is_guessed(self) -> bool:
        return self.basis == Basis.GUESSED


UNKNOWN = Drive(0, Basis.UNKNOWN)


def straight_line_m(a: Coordinates, b: Coordinates) -> float:
    """The great circle by the haversine formula (Sinnott, Sky & Telescope 68(2), 1984):
    hav = sin²(Δφ/2) + cos φ₁ cos φ₂ sin²(Δλ/2), d = 2R asin √hav."""
    north_a, north_b = math.radians(a.latitude), math.radians(b.latitude)
    north = math.sin((north_b - north_a) / 2) ** 2
    east = math.sin(math.radians(b.longitude - a.longitude) / 2) ** 2
    haversine = north + math.cos(north_a) * math.cos(north_b) * east
    return 2 * EARTH_RADIUS_M * math.asin(math.sqrt(min(1.0, haversine)))


def guessed_minutes(a: Coordinates, b: Coordinates) -> int:
    minutes = straight_line_m(a, b) * DETOUR / (SPEED_KMH * 1000 / 60)
    return ROUND_UP_TO * math.ceil(minutes / ROUND_UP_TO)


def minutes_to(site: Site | None, workshop: Business | None, entered: int | None = None) -> Drive:
    """From the workshop: as entered for this once, as entered for the place, or guessed."""
    minutes = entered if entered is not None else (site and site.drive_minutes)
    if minutes is not None:
        return Drive(minutes, Basis.ENTERED)
    return _by_map(workshop, site)


def minutes_between(
    a: Site | None, b: Site | None, *, way_to_a: Drive = UNKNOWN, way_to_b: Drive = UNKNOWN
) -> Drive:
    """From one place to another. By way of the workshop is never farther than that is."""
    if a is not None and b is not None and a.pk == b.pk:
        return Drive(0, Basis.SAME_PLACE)
    across = _by_map(a, b)
    if not (way_to_a.is_known and way_to_b.is_known):
        return across
    around = Drive(way_to_a.minutes + way_to_b.minutes, Basis.BY_WORKSHOP)
    return across if across.is_known and across.minutes <= around.minutes else around


def _by_map(a: Located | None, b: Located | None) -> Drive:
    if a is None or b is None or a.coordinates is None or b.coordinates is None:
        return UNKNOWN
    return Drive(guessed_minutes(a.coordinates, b.coordinates), Basis.GUESSED)
