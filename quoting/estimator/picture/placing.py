"""Where the tied balloons settle: base and accents within the width, large singles at its edge."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from math import pi
from typing import Final

import numpy as np

from .course import Course, Floats
from .gaps import face_of
from .relaxing import Bodies, relax
from .sizes import NECK_SLACK, SINGLE_FREE, SINGLE_ON_WALL, STANDS_PROUD
from .strung import Knot

_STEPS: Final = 200
_TOWARDS_VIEWER: Final = np.array([0.0, 0.0, 1.0])
# The turn that spreads points over a disc most evenly, as the seeds of a sunflower.
_GOLDEN: Final = pi * (3 - 5**0.5)
# Accents are turned from the viewer's direction by this much: seen, and still at their side.
_ACCENT_TURN: Final = 0.9
SIDES: Final = {"left": 1.0, "right": -1.0}


@dataclass(frozen=True)
class Place:
    """A knot's place on the path, with what hangs there; `side` is 1 to the left, else -1."""

    course: Course
    index: int
    radii: Floats
    side: float
    wall: bool
    rng: np.random.Generator

    @property
    def point(self) -> Floats:
        return self.course.points[self.index]

    @property
    def ahead(self) -> Floats:
        return self.course.ahead[self.index]

    @property
    def half_width(self) -> float:
        return float(self.course.widths[self.index]) / 2

    def outward(self, turn: float) -> Floats:
        return outward(self.course, self.index, turn)


@dataclass(frozen=True)
class _Start:
    """Where a knot's balloons begin, and what holds them."""

    centres: Floats
    tie: Floats
    slack: Floats
    proud: Floats


def outward(course: Course, index: int, turn: float) -> Floats:
    """Unit vector across the path: 0 to the viewer, a quarter turn to the left of the path."""
    return np.cos(turn) * _TOWARDS_VIEWER + np.sin(turn) * course.to_the_left(index)


def settle(
    knots: Sequence[Knot], course: Course, *, wall: bool, rng: np.random.Generator
) -> Bodies:
    """Clusters, accents and singles, in the order of `knots` and of their balloons."""
    side = 1.0
    starts: list[_Start] = []
    for knot in knots:
        if knot.item.what == "single":
            side = -side
        place = Place(
            course=course,
            index=int(course.index(knot.item.at)),
            radii=np.array([balloon.diameter_m / 2 for balloon in knot.balloons]),
            side=SIDES.get(knot.item.side or "", side),
            wall=wall,
            rng=rng,
        )
        starts.append(_STARTS[knot.item.what](place))
    return relax(_together(knots, starts), course, wall=wall, steps=_STEPS, face=face_of(course))


def _together(knots: Sequence[Knot], starts: Sequence[_Start]) -> Bodies:
    sizes = [len(knot.balloons) for knot in knots]
    is_single = np.array([knot.item.what == "single" for knot in knots])
    return Bodies(
        centres=np.concatenate([start.centres for start in starts]),
        radii=np.array([b.diameter_m / 2 for knot in knots for b in knot.balloons]),
        ties=np.repeat([start.tie for start in starts], sizes, axis=0),
        slack=np.concatenate([start.slack for start in starts]),
        proud=np.concatenate([start.proud for start in starts]),
        free=np.ones(sum(sizes), dtype=bool),
        fills=~np.repeat(is_single, sizes),
    )


def _cluster(place: Place) -> _Start:
    """Round the knot, spread over the whole section of the garland."""
    count = len(place.radii)
    turns = place.rng.uniform(0, 2 * pi) + _GOLDEN * np.arange(count)
    spread = np.sqrt((np.arange(count) + 0.5) / count)
    reach = np.maximum(place.half_width - place.radii, place.radii / 4) * spread
    across = reach[:, None] * np.array([place.outward(turn) for turn in turns])
    along = np.outer(place.rng.uniform(-0.5, 0.5, count) * place.radii, place.ahead)
    return _Start(
        centres=place.point + across + along,
        tie=place.point,
        slack=place.half_width + NECK_SLACK.value * place.radii,
        proud=STANDS_PROUD.value * place.radii,
    )


def _accent(place: Place) -> _Start:
    """A bunch on the surface."""
    out = place.outward(place.side * _ACCENT_TURN)
    tie = place.point + max(place.half_width - place.radii.mean(), 0) * out
    count = len(place.radii)
    turns = place.rng.uniform(0, 2 * pi) + 2 * pi * np.arange(count) / count
    sideways = np.cross(out, place.ahead)
    ring = np.outer(np.cos(turns), sideways) + np.outer(np.sin(turns), place.ahead)
    return _Start(
        centres=tie + ring * place.radii[:, None] / 2,
        tie=tie,
        slack=NECK_SLACK.value * place.radii,
        proud=STANDS_PROUD.value * place.radii,
    )


def _single(place: Place) -> _Start:
    """At the edge, mostly outside: it looks out from behind the base, or from beside it."""
    hung = SINGLE_ON_WALL if place.wall else SINGLE_FREE
    beyond = hung.beyond.value * place.radii
    tie = place.point + (place.half_width + beyond[0]) * place.outward(place.side * hung.turn)
    return _Start(
        centres=tie[None, :].copy(), tie=tie, slack=place.radii / 4, proud=place.radii + beyond
    )


_STARTS: Final[Mapping[str, Callable[[Place], _Start]]] = {
    "cluster": _cluster,
    "accent": _accent,
    "single": _single,
}
