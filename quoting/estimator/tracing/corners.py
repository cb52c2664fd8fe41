"""Four corners of a rectangle in a photo, in whatever order they were tapped."""

from collections.abc import Sequence
from itertools import combinations
from math import atan2, dist, hypot, radians, sin
from typing import Final

from ..problems import Problem
from .problems import Point, TraceError

# Closer than that, a corner's own error says more than its place. Own choices, no source.
CLOSEST_CORNERS: Final = 0.01  # of the photo's longer side
_FLATTEST: Final = sin(radians(3))  # a corner may not open to more than 177 degrees


def in_order(corners: Sequence[Point], *, longer_side_px: float) -> tuple[Point, ...]:
    """Clockwise as seen, from the top left; TraceError when they are no rectangle seen askew."""
    if len(corners) != 4:
        raise TraceError([Problem("corners", f"must be four, not {len(corners)}")])
    _refuse_close(corners, CLOSEST_CORNERS * longer_side_px)
    x, y = (sum(values) / 4 for values in zip(*corners, strict=True))
    # y runs downwards, so that a growing angle is clockwise to the eye.
    around = sorted(range(4), key=lambda i: atan2(corners[i][1] - y, corners[i][0] - x))
    _refuse_flat(corners, around)
    return _from_top_left([corners[i] for i in around])


def _refuse_close(corners: Sequence[Point], closest: float) -> None:
    problems = [
        Problem(f"corners[{j}]", f"corners {i + 1} and {j + 1} are too near to each other")
        for i, j in combinations(range(4), 2)
        if dist(corners[i], corners[j]) < closest
    ]
    if problems:
        raise TraceError(problems)


def _refuse_flat(corners: Sequence[Point], around: Sequence[int]) -> None:
    sharpness = {
        around[i]: _turn(*(corners[around[(i + step) % 4]] for step in (-1, 0, 1)))
        for i in range(4)
    }
    flattest = min(sharpness, key=sharpness.__getitem__)
    if sharpness[flattest] < _FLATTEST:
        at = around.index(flattest)
        before, after = sorted((around[at - 1], around[(at + 1) % 4]))
        message = (
            f"corner {flattest + 1} lies in line with corners {before + 1} and {after + 1}, or "
            "within the other three: a rectangle never looks so"
        )
        raise TraceError([Problem(f"corners[{flattest}]", message)])


def _turn(before: Point, at: Point, after: Point) -> float:
    """Sine of the turn to the right on the way over `at`."""
    (ax, ay), (bx, by) = (
        (at[0] - before[0], at[1] - before[1]),
        (after[0] - at[0], after[1] - at[1]),
    )
    return (ax * by - ay * bx) / (hypot(ax, ay) * hypot(bx, by))


def _from_top_left(clockwise: Sequence[Point]) -> tuple[Point, ...]:
    """Begins where the first side runs most to the right and the second most downwards."""
    return max(
        ((*clockwise[i:], *clockwise[:i]) for i in range(4)),
        key=lambda turned: _uprightness(*turned),
    )


def _uprightness(top_left: Point, top_right: Point, low_right: Point, low_left: Point) -> float:
    right = ((top_left, top_right), (low_left, low_right))
    down = ((top_left, low_left), (top_right, low_right))
    return sum((b[0] - a[0]) / dist(a, b) for a, b in right) + sum(
        (b[1] - a[1]) / dist(a, b) for a, b in down
    )
