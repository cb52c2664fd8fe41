"""What is fixed on last, when the rest no longer moves: minis in the dips, starbursts on top."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from .course import Course, Floats
from .placing import SIDES, outward
from .relaxing import Bodies, joined, relax
from .sizes import FOIL_POINT_LENGTH_M, FOIL_POINT_WIDEST
from .strung import Knot

_QUAD: Final = 4
_STEPS: Final = 100
_SCATTER: Final = 0.7  # radii, so that no two begin at one place
# Where a quad may go: this far along from its mini's place, and turned from the viewer.
_ALONG_M: Final = (-0.15, -0.075, 0.0, 0.075, 0.15)
_TURNS: Final = np.linspace(-1.35, 1.35, 13)
# Starbursts face the viewer more than the side.
_BURST_TURN: Final = 0.6
_RAY_STEP_M: Final = 0.02
# Room that the middle of a starburst wants to the next balloon's skin.
_BURST_ROOM_M: Final = 0.03
# The twelve corners of an icosahedron: points evenly all round.
_GOLDEN_RATIO: Final = (1 + 5**0.5) / 2
_TWELVE: Final = np.array(
    [
        point
        for a in (-1, 1)
        for b in (-_GOLDEN_RATIO, _GOLDEN_RATIO)
        for point in ((0, a, b), (a, b, 0), (b, 0, a))
    ]
) / np.hypot(1, _GOLDEN_RATIO)


@dataclass(frozen=True)
class Burst:
    """`middle` and the twelve directions (12, 3) its points go in."""

    middle: Floats
    points: Floats


def tuck_minis(
    minis: Sequence[Knot],
    base: Bodies,
    course: Course,
    *,
    wall: bool,
    rng: np.random.Generator,
) -> Bodies:
    """The fillers only, in order; quads of one mini share the deepest dips about its place."""
    radii = np.array([b.diameter_m / 2 for knot in minis for b in knot.balloons])
    quads = _quads(minis)
    dips = _dips(minis, quads, base, course)
    quad = np.repeat(np.arange(len(quads)), [len(q) for q in quads])
    start = dips[quad] + rng.normal(size=(len(quad), 3)) * radii[:, None] * _SCATTER
    start[:, 2] += 2 * radii
    fixed = len(base.radii)
    fillers = Bodies(
        centres=start,
        radii=radii,
        ties=dips[quad],
        slack=radii * 1.3,
        proud=np.full(len(radii), np.inf),
        free=np.ones(len(radii), dtype=bool),
        fills=np.zeros(len(radii), dtype=bool),
    )
    still = replace(base, free=np.zeros(fixed, dtype=bool))
    settled = relax(joined(still, fillers), course, wall=wall, steps=_STEPS)
    return Bodies(**{name: part[fixed:] for name, part in vars(settled).items()})


def _quads(minis: Sequence[Knot]) -> list[range]:
    """Runs of four balloons; the numbers are places in the list of all fillers."""
    quads, before = [], 0
    for knot in minis:
        ends = before + len(knot.balloons)
        quads += [range(i, min(i + _QUAD, ends)) for i in range(before, ends, _QUAD)]
        before = ends
    return quads


def _dips(minis: Sequence[Knot], quads: Sequence[range], base: Bodies, course: Course) -> Floats:
    """For each quad, a point on the surface: of those about its mini's place, the emptiest."""
    tree, largest = cKDTree(base.centres), float(base.radii.max())
    found: list[Floats] = []
    for knot in minis:
        size = float(np.mean([balloon.diameter_m for balloon in knot.balloons]))
        spots = _spots(course, knot.item.at, size)
        room = _room(spots, tree, base.radii, largest)
        for _ in range(-(-len(knot.balloons) // _QUAD)):
            best = int(np.argmax(room))
            found.append(spots[best])
            crowded = np.linalg.norm(spots - spots[best], axis=1) < 1.5 * size
            room = np.where(crowded, room - size, room)
    return np.array(found).reshape(len(quads), 3)


def _spots(course: Course, at: float, size: float) -> Floats:
    """A small balloon's centre at each, so that it just sinks in from the edge."""
    spots = []
    for along in _ALONG_M:
        index = int(course.index(at + along / course.length_m))
        out = max(course.widths[index] / 2 - size / 2, size / 4)
        spots += [course.points[index] + out * outward(course, index, turn) for turn in _TURNS]
    return np.array(spots)


def _room(spots: Floats, tree: cKDTree, radii: Floats, largest: float) -> Floats:
    """How far each spot is from the nearest balloon's skin; below zero inside one."""
    known = min(8, tree.n)
    distance, near = tree.query(spots, k=known)
    return (distance.reshape(-1, known) - radii[near.reshape(-1, known)]).min(axis=1)


def fix_bursts(
    knots: Sequence[Knot],
    accents: Sequence[Knot],
    base: Bodies,
    course: Course,
    *,
    rng: np.random.Generator,
) -> list[Burst]:
    """Each on the side away from the nearest accent, so that neither hides the other."""
    tree, bursts = cKDTree(base.centres), []
    for i, knot in enumerate(knots):
        index = int(course.index(knot.item.at))
        nearest = min(accents, key=lambda a: abs(a.item.at - knot.item.at), default=None)
        side = -SIDES[nearest.item.side or "left"] if nearest else (-1.0) ** i
        out = outward(course, index, _BURST_TURN * side)
        middle = _on_the_surface(course.points[index], out, tree, base.radii)
        bursts.append(Burst(middle, _TWELVE @ _any_turn(rng).T))
    return bursts


def _on_the_surface(point: Floats, out: Floats, tree: cKDTree, radii: Floats) -> Floats:
    """From the path outwards, the first point beyond which there is room everywhere."""
    reach = np.arange(0.0, 2.5, _RAY_STEP_M)
    ray = point + reach[:, None] * out
    known = min(8, tree.n)
    distance, near = tree.query(ray, k=known)
    gap = (distance.reshape(-1, known) - radii[near.reshape(-1, known)]).min(axis=1)
    last = int(np.flatnonzero(gap < _BURST_ROOM_M).max(initial=0))
    return ray[min(last + 1, len(ray) - 1)]


def _any_turn(rng: np.random.Generator) -> NDArray[np.float64]:
    """An even choice among all rotations: a random frame, made square."""
    frame, upper = np.linalg.qr(rng.normal(size=(3, 3)))
    return frame * np.sign(np.diag(upper))


def point_middle(burst: Burst) -> Floats:
    """(12, 3): where each point is widest."""
    reach = FOIL_POINT_LENGTH_M.value * FOIL_POINT_WIDEST
    return burst.middle + burst.points * reach
