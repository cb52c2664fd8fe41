"""A flat plane in a photo, measured by a rectangle or a length that is known in it.

Pixels are those of the stored photo, upright, x to the right and y down from its top left
corner. Metres in the plane run x to the right and up from the rectangle's lower left corner,
or from the lower and the left of two marks.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from math import atan2, degrees, dist, isfinite, log
from typing import Final

import numpy as np

from ..problems import Problem
from .corners import CLOSEST_CORNERS, in_order
from .homography import Floats, direct_linear_transform, mapped, scaled, slope
from .problems import Point, TraceError, points_in_photo

SIZE_M: Final = (0.05, 50.0)
# A marker dragged with a thumb on a 390 px wide screen stays within some 2 of its pixels, of
# the some 500 that a photo's longer side has there. From memory.
MARK_SD: Final = 0.004  # of the photo's longer side
# w is 1 amid the marks and 0 at the horizon: this near to it a pixel is metres.
_HORIZON: Final = 0.02
_SWAPPED_FROM: Final = log(1.5)

SWAPPED: Final = "the rectangle looks as if its width and height had been typed the wrong way round"
SQUARE_ON: Final = (
    "one length is enough only in a photo taken square on: from 30 degrees aside, lengths "
    "come out up to 13 % wrong"  # 1 - cos 30 degrees
)


@dataclass(frozen=True, kw_only=True)
class Ellipse:
    """What a flat circle in the plane looks like; `turn_deg` is clockwise, of the long radius.

    A ball is not foreshortened as a flat circle is: draw it round, with the long radius.
    """

    x_px: float
    y_px: float
    long_px: float
    short_px: float
    turn_deg: float


@dataclass(frozen=True, kw_only=True)
class Plane:
    """Four marks with width and height, or two with the length between them."""

    marks_px: tuple[Point, ...]
    known_m: tuple[float, ...]
    photo_px: tuple[int, int]
    mark_sd_px: float

    @cached_property
    def to_m(self) -> Floats:
        """3 x 3, homogeneous pixels to homogeneous metres."""
        marks = np.array(self.marks_px)
        if len(marks) == 2:
            return _upright_scale(marks, self.known_m[0])
        width, height = self.known_m
        known = np.array([(0, height), (width, height), (width, 0), (0, 0)])
        return direct_linear_transform(marks, known)

    @cached_property
    def to_px(self) -> Floats:
        marks_m, _ = mapped(self.to_m, np.array(self.marks_px))
        return scaled(np.linalg.inv(self.to_m), marks_m)

    @property
    def cautions(self) -> tuple[str, ...]:
        if len(self.marks_px) == 2:
            return (SQUARE_ON,)
        return (SWAPPED,) if self._looks_swapped() else ()

    def to_metres(self, points_px: Sequence[Point], *, key: str = "taps") -> tuple[Point, ...]:
        """TraceError names a tap at or beyond the horizon, where the plane is never met."""
        points, w = mapped(self.to_m, _array(points_px))
        _refuse(
            w < _HORIZON,
            key,
            "tap {} lies at or beyond the horizon of the marked plane: it has no distance there",
        )
        return _tuples(points)

    def to_pixels(self, points_m: Sequence[Point], *, key: str = "points") -> tuple[Point, ...]:
        """TraceError names a point that would be behind the camera."""
        points, w = mapped(self.to_px, _array(points_m))
        _refuse(w < _HORIZON, key, "point {} of the plane lies behind the camera")
        return _tuples(points)

    def ellipse_at(self, centre_m: Point, radius_m: float) -> Ellipse:
        """To first order: good while the circle is small beside its distance."""
        ((x, y),) = self.to_pixels([centre_m])
        axes, lengths, _ = np.linalg.svd(slope(self.to_px, np.array(centre_m)))
        return Ellipse(
            x_px=x,
            y_px=y,
            long_px=float(lengths[0]) * radius_m,
            short_px=float(lengths[1]) * radius_m,
            turn_deg=degrees(atan2(axes[1, 0], axes[0, 0])) % 180,
        )

    def with_marks(self, marks_px: Floats) -> "Plane":
        return replace(self, marks_px=_tuples(marks_px))

    def _looks_swapped(self) -> bool:
        a, b, c, d = self.marks_px
        seen = log((dist(a, b) + dist(d, c)) / (dist(a, d) + dist(b, c)))
        typed = log(self.known_m[0] / self.known_m[1])
        return abs(seen - typed) - abs(seen + typed) > _SWAPPED_FROM


def plane_from_rectangle(
    corners_px: Sequence[Point],
    *,
    width_m: float,
    height_m: float,
    photo_px: tuple[int, int],
    mark_sd_px: float | None = None,
) -> Plane:
    """Corners in any order; the width lies across as seen in the photo."""
    known = _sizes(width_m=width_m, height_m=height_m)
    corners = points_in_photo(corners_px, what="corner", key="corners", photo_px=photo_px)
    ordered = in_order(corners, longer_side_px=max(photo_px))
    return _plane(ordered, known, photo_px, mark_sd_px)


def plane_from_length(
    ends_px: Sequence[Point],
    *,
    length_m: float,
    photo_px: tuple[int, int],
    mark_sd_px: float | None = None,
) -> Plane:
    """For a photo taken square on and level: one scale everywhere."""
    known = _sizes(length_m=length_m)
    ends = points_in_photo(ends_px, what="end", key="ends", photo_px=photo_px)
    if len(ends) != 2:
        raise TraceError([Problem("ends", f"must be two, not {len(ends)}")])
    if dist(*ends) < CLOSEST_CORNERS * max(photo_px):
        raise TraceError([Problem("ends[1]", "ends 1 and 2 are too near to each other")])
    return _plane(ends, known, photo_px, mark_sd_px)


def _plane(
    marks: tuple[Point, ...],
    known_m: tuple[float, ...],
    photo_px: tuple[int, int],
    mark_sd_px: float | None,
) -> Plane:
    sd = MARK_SD * max(photo_px) if mark_sd_px is None else mark_sd_px
    if not (isfinite(sd) and sd >= 0):
        raise TraceError([Problem("mark_sd_px", "must be a number of pixels, 0 or more")])
    return Plane(marks_px=marks, known_m=known_m, photo_px=photo_px, mark_sd_px=sd)


def _sizes(**sizes_m: float) -> tuple[float, ...]:
    low, high = SIZE_M
    problems = [
        Problem(key, f"must be from {low:g} to {high:g} m")
        for key, size in sizes_m.items()
        if not low <= size <= high
    ]
    if problems:
        raise TraceError(problems)
    return tuple(float(size) for size in sizes_m.values())


def _upright_scale(marks: Floats, length_m: float) -> Floats:
    scale = length_m / float(np.linalg.norm(marks[1] - marks[0]))
    left, low = marks[:, 0].min(), marks[:, 1].max()
    return np.array([[scale, 0, -scale * left], [0, -scale, scale * low], [0, 0, 1]])


def _refuse(bad: Floats, key: str, message: str) -> None:
    problems = [Problem(f"{key}[{i}]", message.format(i + 1)) for i in np.flatnonzero(bad)]
    if problems:
        raise TraceError(problems)


def _array(points: Sequence[Point]) -> Floats:
    return np.asarray(points, dtype=float).reshape(-1, 2)


def _tuples(points: Floats) -> tuple[Point, ...]:
    return tuple((float(x), float(y)) for x, y in points)
