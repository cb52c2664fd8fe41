"""Why marks, taps or sizes are refused; every message names its point as people count."""

from collections.abc import Sequence
from math import isfinite

from ..problems import BadInput, Problem

Point = tuple[float, float]


class TraceError(BadInput):
    """A plane cannot be found from these marks, or these taps do not lie on it."""


def points_in_photo(
    points: Sequence[Point], *, what: str, key: str, photo_px: tuple[int, int]
) -> tuple[Point, ...]:
    """As floats; TraceError names each that is no place in the photo."""
    width, height = photo_px
    outside = [
        Problem(
            f"{key}[{i}]",
            f"{what} {i + 1} must lie in the photo: 0 to {width} across and 0 to {height} down",
        )
        for i, (x, y) in enumerate(points)
        if not (isfinite(x) and isfinite(y) and 0 <= x <= width and 0 <= y <= height)
    ]
    if outside:
        raise TraceError(outside)
    return tuple((float(x), float(y)) for x, y in points)
