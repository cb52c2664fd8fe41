"""The path as a course of points to hang balloons on: x to the right, y up, z to the viewer.

Metres. A path that lies in one upright plane is looked at square on. One that turns away
from it by more than a little, such as round the corner of a porch, is unrolled flat as an
architect draws a cornered front, so that no length is hidden from the viewer.
"""

from dataclasses import dataclass
from functools import singledispatch
from math import pi
from typing import Final

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import brentq
from scipy.spatial import cKDTree

from .. import constants as c
from ..paths import is_closed
from ..spec import Arch, Backing, Drape, Line, Path, Posts, Ring, Spec, Swag

Floats = NDArray[np.float64]

# A hundredth of a metre shows no facets; a long path needs no more points than this.
_STEP_M: Final = 0.01
_MOST_POINTS: Final = 4000
_CURVE_POINTS: Final = 4001
# Seen square on, a path may lose this share of its length to depth before it is unrolled.
_HIDDEN_LENGTH: Final = 0.02
_STEEPEST_SWAG: Final = 20.0
_HAIRPIN: Final = 1e-6


def _distance_off_the_wall(share: float) -> float:
    """In radii: how near a wall cuts a circle to this share of its area.

    A chord x radii from the middle cuts off (acos x - x sqrt(1 - x^2)) / pi of the circle.
    """
    return brentq(lambda x: (np.arccos(x) - x * np.sqrt(1 - x * x)) / pi - (1 - share), 0.0, 1.0)


_OFF_THE_WALL: Final = _distance_off_the_wall(c.FLAT_BACKING.value)


@dataclass(frozen=True)
class Course:
    """`points` (m, 3) evenly along the path, `widths` there, `ahead` the unit tangents."""

    points: Floats
    widths: Floats
    ahead: Floats
    length_m: float
    closed: bool
    unrolled: bool
    tree: cKDTree

    @property
    def step_m(self) -> float:
        return self.length_m / (len(self.points) - 1)

    @property
    def ends(self) -> tuple[tuple[int, Floats], tuple[int, Floats]]:
        """Where the path begins and ends, with the direction that leads out of it there."""
        first, last = self.points[0] - self.points[1], self.points[-1] - self.points[-2]
        final = len(self.points) - 1
        return (0, first / np.linalg.norm(first)), (final, last / np.linalg.norm(last))

    def to_the_left(self, index: int) -> Floats:
        """Across the path in the picture's plane, to the left of someone walking along it."""
        x, y, _ = self.ahead[index]
        size = float(np.hypot(x, y))
        return np.array([-y / size, x / size, 0.0]) if size else np.array([0.0, 1.0, 0.0])

    def index(self, at: float | Floats) -> NDArray[np.intp]:
        last = len(self.points) - 1
        return np.clip(np.rint(np.asarray(at) * last), 0, last).astype(np.intp)


def course_of(spec: Spec) -> Course:
    """In front of a flat backing the path keeps the distance that its balloons leave it."""
    corners = _corners(spec.path)
    unrolled = isinstance(spec.path, Drape) and _hides_length(corners)
    if unrolled:
        corners = _unrolled(corners)
    points, length = _evenly_along(corners)
    at = np.linspace(0.0, 1.0, len(points))
    widths = np.interp(at, [s.at for s in spec.width], [s.width_m for s in spec.width])
    if spec.backing is Backing.FLAT:
        points[:, 2] = _OFF_THE_WALL * widths / 2
    return Course(
        points=points,
        widths=widths,
        ahead=_tangents(points, widths, length),
        length_m=length,
        closed=is_closed(spec.path),
        unrolled=unrolled,
        tree=cKDTree(points),
    )


def _evenly_along(corners: Floats) -> tuple[Floats, float]:
    steps = np.linalg.norm(np.diff(corners, axis=0), axis=1)
    gone = np.concatenate([[0.0], np.cumsum(steps)])
    length = float(gone[-1])
    count = int(np.clip(np.ceil(length / _STEP_M), 40, _MOST_POINTS)) + 1
    wanted = np.linspace(0.0, length, count)
    return np.stack([np.interp(wanted, gone, part) for part in corners.T], axis=1), length


def _tangents(points: Floats, widths: Floats, length: float) -> Floats:
    """Over a third of the width to either side, so that a corner is turned and not jumped."""
    last = len(points) - 1
    reach = np.clip(np.rint(widths / 3 / length * last), 1, last).astype(np.intp)
    here = np.arange(len(points))
    across = points[np.minimum(here + reach, last)] - points[np.maximum(here - reach, 0)]
    # A hairpin comes back to where it was: there the next step alone shows the way.
    step = np.diff(points, axis=0, append=points[-1:] + points[-1:] - points[-2:-1])
    chosen = np.where(np.linalg.norm(across, axis=1, keepdims=True) > _HAIRPIN, across, step)
    return chosen / np.maximum(np.linalg.norm(chosen, axis=1, keepdims=True), _HAIRPIN)


@singledispatch
def _corners(path: Path) -> Floats:
    raise TypeError(f"not a path: {path!r}")


@_corners.register
def _(path: Line) -> Floats:
    return np.array([[0.0, 0.0, 0.0], [path.length_m, 0.0, 0.0]])


@_corners.register
def _(path: Posts) -> Floats:
    half, top = path.width_m / 2, path.height_m
    return np.array([[-half, 0, 0], [-half, top, 0], [half, top, 0], [half, 0, 0]], dtype=float)


@_corners.register
def _(path: Arch) -> Floats:
    turn = np.linspace(0.0, pi, _CURVE_POINTS)
    return _flat(-path.width_m / 2 * np.cos(turn), path.height_m * np.sin(turn))


@_corners.register
def _(path: Ring) -> Floats:
    """From the top round to the right."""
    turn = np.linspace(0.0, 2 * pi, _CURVE_POINTS)
    radius = path.diameter_m / 2
    return _flat(radius * np.sin(turn), radius + radius * np.cos(turn))


@_corners.register
def _(path: Swag) -> Floats:
    """A chain y = a cosh(x / a); u = span / (2 a) solves sag / span = (cosh u - 1) / (2 u)."""
    wanted = 2 * path.sag_m / path.span_m
    u = brentq(lambda v: 2 * np.sinh(v / 2) ** 2 / v - wanted, 1e-9, _STEEPEST_SWAG, xtol=1e-13)
    # Even steps of arc length, sinh(x / a), so that a steep chain is not all corner.
    x = np.arcsinh(np.linspace(-np.sinh(u), np.sinh(u), _CURVE_POINTS)) / u
    return _flat(path.span_m / 2 * x, path.span_m / (2 * u) * (np.cosh(u * x) - np.cosh(u)))


@_corners.register
def _(path: Drape) -> Floats:
    """Turned about the upright so that the most of it is seen; y of the spec is depth."""
    given = np.array(path.points_m)
    across, deep, up = given.T
    steps = np.diff(given, axis=0)
    # The direction that explains the steps best: the main axis of their scatter in plan.
    scatter = np.arctan2(
        2 * np.sum(steps[:, 0] * steps[:, 1]), np.sum(steps[:, 0] ** 2 - steps[:, 1] ** 2)
    )
    turn = float(scatter) / 2
    seen = across * np.cos(turn) + deep * np.sin(turn)
    back = deep * np.cos(turn) - across * np.sin(turn)
    return np.stack([seen, up, -(back - back.mean())], axis=1)


def _flat(x: Floats, y: Floats) -> Floats:
    return np.stack([x, y, np.zeros_like(x)], axis=1)


def _hides_length(corners: Floats) -> bool:
    steps = np.diff(corners, axis=0)
    whole = np.linalg.norm(steps, axis=1).sum()
    return bool(np.linalg.norm(steps[:, :2], axis=1).sum() < (1 - _HIDDEN_LENGTH) * whole)


def _unrolled(corners: Floats) -> Floats:
    """Each step keeps its length and its rise; only a turn back in plan turns back on paper."""
    steps = np.diff(corners, axis=0)
    plan = steps[:, [0, 2]]
    sign, signs, heading = 1.0, [], None
    for step in plan:
        if np.hypot(*step) > 1e-9:
            if heading is None:
                sign = 1.0 if step[0] >= 0 else -1.0
            elif heading @ step < 0:
                sign = -sign
            heading = step
        signs.append(sign)
    run = np.array(signs) * np.hypot(*plan.T)
    x = np.concatenate([[0.0], np.cumsum(run)])
    return _flat(x, corners[:, 1])
