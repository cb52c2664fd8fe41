"""The path that was tapped on a photo, in metres of its plane, and how sure its length is."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import dist, sqrt
from typing import Final

import numpy as np

from .. import constants as c
from ..problems import Problem
from .homography import Floats, mapped, slope
from .plane import Plane
from .problems import Point, TraceError, points_in_photo

MOST_TAPS: Final = 200
# Small beside a mark's error, large beside rounding.
_STEP: Final = 0.1  # of the mark's standard deviation
_UNSURE_FROM: Final = 0.10

DEPTH_NOT_SEEN: Final = (
    "only what lies flat in the marked plane is measured: depth in front of it or behind it "
    "is not seen, nor is the bulge of a wide lens"
)
UNSURE: Final = (
    "the length is uncertain by more than a tenth: mark a larger rectangle, or one nearer to "
    "the path"
)


@dataclass(frozen=True, kw_only=True)
class Trace:
    """`points_m` are a drape's: x to the right, y away from the viewer (always 0), z up.

    `length_sd_m` is one standard deviation, from the error of marks and taps alone: what was
    typed for the known size is taken as true, and 1 % wrong there is 1 % of the length.
    """

    points_m: tuple[tuple[float, float, float], ...]
    length_m: float
    length_sd_m: float
    cautions: tuple[str, ...]


def trace(plane: Plane, taps_px: Sequence[Point]) -> Trace:
    """Taps in pixels of the stored photo, in order along the path."""
    if not 2 <= len(taps_px) <= MOST_TAPS:
        message = f"tap 2 to {MOST_TAPS} points of the path, not {len(taps_px)}"
        raise TraceError([Problem("taps", message)])
    taps = points_in_photo(taps_px, what="tap", key="taps", photo_px=plane.photo_px)
    points = plane.to_metres(taps)
    length = sum(map(dist, points, points[1:]))
    if not c.PATH_M[0] <= length <= c.PATH_M[1]:
        message = (
            f"the path is {length:.2f} m long: it must be {c.PATH_M[0]:g} to {c.PATH_M[1]:g} m"
        )
        raise TraceError([Problem("taps", message)])
    sd = _length_sd(plane, np.array(taps))
    unsure = (UNSURE,) if sd > _UNSURE_FROM * length else ()
    return Trace(
        points_m=tuple((x, 0.0, up) for x, up in points),
        length_m=length,
        length_sd_m=sd,
        cautions=(*plane.cautions, *unsure, DEPTH_NOT_SEEN),
    )


def _length_sd(plane: Plane, taps: Floats) -> float:
    """First order: each coordinate of each mark and tap errs by itself, by the same sd."""
    gradient = np.concatenate([_by_marks(plane, taps), _by_taps(plane, taps)])
    return plane.mark_sd_px * sqrt(float(gradient @ gradient))


def _by_marks(plane: Plane, taps: Floats) -> Floats:
    """Metres of length a pixel of each mark's x and y, by central differences."""
    marks = np.array(plane.marks_px)
    step = _STEP * plane.mark_sd_px or _STEP
    gradient = []
    for at in np.ndindex(marks.shape):
        moved = np.zeros_like(marks)
        moved[at] = step
        more, less = (_length(plane.with_marks(marks + sign * moved), taps) for sign in (1, -1))
        gradient.append((more - less) / (2 * step))
    return np.array(gradient)


def _by_taps(plane: Plane, taps: Floats) -> Floats:
    """A tap moves the length by the directions of the two legs that meet there."""
    points, _ = mapped(plane.to_m, taps)
    legs = np.diff(points, axis=0)
    lengths = np.linalg.norm(legs, axis=1, keepdims=True)
    directions = np.divide(legs, lengths, out=np.zeros_like(legs), where=lengths > 0)
    none = np.zeros((1, 2))
    pulls = np.vstack([none, directions]) - np.vstack([directions, none])
    slopes = (slope(plane.to_m, tap) for tap in taps)
    return np.concatenate([pull @ by for pull, by in zip(pulls, slopes, strict=True)])


def _length(plane: Plane, taps: Floats) -> float:
    points, _ = mapped(plane.to_m, taps)
    return float(np.linalg.norm(np.diff(points, axis=0), axis=1).sum())
