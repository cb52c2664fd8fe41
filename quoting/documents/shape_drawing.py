"""A plain outline of a piece, to scale, with its width and height marked. Not the full picture."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise
from math import atan2, cos, cosh, dist, hypot, pi, remainder, sin, sinh

from decor.display import length_text
from quoting.estimator import Spec
from quoting.estimator.paths import path_length
from quoting.estimator.spec import Arch, Drape, Line, Path, Posts, Ring, Station, Swag

Point = tuple[float, float]

SAMPLES = 120
_FINE = 600
SHARP = 0.3  # radians from one step to the next: above any smooth curve's at this many steps
# Millimetres on paper.
BOX_WIDTH, BOX_HEIGHT = 62.0, 42.0
MARK_ROOM, TEXT_ROOM = 3.5, 16.0


@dataclass(frozen=True)
class Bead:
    """A disc on the path, in millimetres from the drawing's top left."""

    x: float
    y: float
    r: float


@dataclass(frozen=True)
class Mark:
    """A dimension: its line as SVG path data, and its words with where they stand."""

    line: str
    text: str
    text_x: float
    text_y: float


@dataclass(frozen=True)
class ShapeDrawing:
    """`outline` is SVG path data; `ground` is the floor it stands on, where it stands on one."""

    title: str
    width: float
    height: float
    outline: str
    round_parts: tuple[Bead, ...]
    ground: Mark | None
    across: Mark
    upright: Mark


@dataclass(frozen=True)
class Extent:
    """Metres from balloon edge to balloon edge, seen from the front."""

    left: float
    right: float
    low: float
    high: float

    @property
    def width_m(self) -> float:
        return self.right - self.left

    @property
    def height_m(self) -> float:
        return self.high - self.low


def extent_of(spec: Spec) -> Extent:
    tube = _tube(spec)
    low = 0.0 if _stands(spec.path) else min(z - r for _, z, r in tube)
    return Extent(
        left=min(x - r for x, _, r in tube),
        right=max(x + r for x, _, r in tube),
        low=low,
        high=max(z + r for _, z, r in tube),
    )


def shape_drawing(spec: Spec, *, units: str, title: str) -> ShapeDrawing:
    extent = extent_of(spec)
    scale = min(BOX_WIDTH / extent.width_m, BOX_HEIGHT / extent.height_m)
    wide, tall = extent.width_m * scale, extent.height_m * scale
    beads = [
        Bead((x - extent.left) * scale, (extent.high - z) * scale, r * scale)
        for x, z, r in _tube(spec)
    ]
    return ShapeDrawing(
        title=title,
        width=round(wide + MARK_ROOM + TEXT_ROOM, 2),
        height=round(tall + MARK_ROOM + 5.5, 2),
        outline=_outline(beads),
        round_parts=_round_parts(beads),
        ground=_ground(wide, tall) if _stands(spec.path) else None,
        across=_across(wide, tall, length_text(extent.width_m, units)),
        upright=_upright(wide, tall, length_text(extent.height_m, units)),
    )


def _tube(spec: Spec) -> list[tuple[float, float, float]]:
    """Across, up and radius at even steps along the path."""
    points = points_along(spec.path)
    last = len(points) - 1
    return [(x, z, width_at(spec.width, i / last) / 2) for i, (x, z) in enumerate(points)]


def _stands(path: Path) -> bool:
    return isinstance(path, Arch | Posts)


def _outline(beads: Sequence[Bead]) -> str:
    """Up one side of the path and down the other; round ends and corners are drawn apart."""
    ways = list(_ways(beads))
    sides = (
        [(bead.x + side * nx * bead.r, bead.y + side * ny * bead.r) for bead, (nx, ny) in ways]
        for side in (1, -1)
    )
    left, right = sides
    return "M" + "L".join(f"{x:.2f} {y:.2f}" for x, y in (*left, *reversed(right))) + "z"


def _ways(beads: Sequence[Bead]) -> Iterator[tuple[Bead, Point]]:
    """Each bead with the unit vector across the path there."""
    befores, afters = [beads[0], *beads[:-1]], [*beads[1:], beads[-1]]
    for bead, before, after in zip(beads, befores, afters, strict=True):
        dx, dy = after.x - before.x, after.y - before.y
        long = hypot(dx, dy) or 1.0
        yield bead, (-dy / long, dx / long)


def _round_parts(beads: Sequence[Bead]) -> tuple[Bead, ...]:
    """The two ends, and every place where the path turns sharply."""
    turns = [
        bead
        for before, bead, after in zip(beads, beads[1:], beads[2:], strict=False)
        if _turn(before, bead, after) > SHARP
    ]
    return tuple(Bead(*_rounded(bead.x, bead.y, bead.r)) for bead in (beads[0], *turns, beads[-1]))


def _turn(before: Bead, bead: Bead, after: Bead) -> float:
    """Radians."""
    come = atan2(bead.y - before.y, bead.x - before.x)
    go = atan2(after.y - bead.y, after.x - bead.x)
    return abs(remainder(go - come, 2 * pi))


def _across(wide: float, tall: float, text: str) -> Mark:
    y = tall + MARK_ROOM
    line = f"M0 {y - 0.7:.2f} v1.4 M0 {y:.2f} H{wide:.2f} m0 -0.7 v1.4"
    return Mark(line, text, *_rounded(wide / 2, y + 3.6))


def _upright(wide: float, tall: float, text: str) -> Mark:
    x = wide + MARK_ROOM
    line = f"M{x - 0.7:.2f} 0 h1.4 M{x:.2f} 0 V{tall:.2f} m-0.7 0 h1.4"
    return Mark(line, text, *_rounded(x + 1.8, tall / 2 + 1))


def _ground(wide: float, tall: float) -> Mark:
    return Mark(f"M-0.5 {tall:.2f} H{wide + 0.5:.2f}", "", *_rounded(-2, tall))


def _rounded(*numbers: float) -> tuple[float, ...]:
    return tuple(round(number, 2) for number in numbers)


def width_at(stations: Sequence[Station], at: float) -> float:
    """Straight between stations, level beyond the first and last, as the estimate has it."""
    if at <= stations[0].at:
        return stations[0].width_m
    for before, after in pairwise(stations):
        if at <= after.at:
            share = (at - before.at) / (after.at - before.at) if after.at > before.at else 1
            return before.width_m + share * (after.width_m - before.width_m)
    return stations[-1].width_m


def points_along(path: Path) -> list[Point]:
    """Evenly spaced along the path: across and up, in metres."""
    corners = _fine_points(path)
    gone = [0.0, *accumulate(dist(a, b) for a, b in pairwise(corners))]
    points, k = [], 0
    for i in range(SAMPLES + 1):
        wanted = gone[-1] * i / SAMPLES
        while k < len(gone) - 2 and gone[k + 1] < wanted:
            k += 1
        step = gone[k + 1] - gone[k]
        share = (wanted - gone[k]) / step if step else 0.0
        (x1, z1), (x2, z2) = corners[k], corners[k + 1]
        points.append((x1 + share * (x2 - x1), z1 + share * (z2 - z1)))
    return points


def _fine_points(path: Path) -> list[Point]:
    turns = [i / _FINE for i in range(_FINE + 1)]
    match path:
        case Line(length_m=length):
            return [(0.0, 0.0), (length, 0.0)]
        case Posts(width_m=width, height_m=height):
            return [(0.0, 0.0), (0.0, height), (width, height), (width, 0.0)]
        case Arch(width_m=width, height_m=height):
            return [(-width / 2 * cos(pi * t), height * sin(pi * t)) for t in turns]
        case Ring(diameter_m=across):
            return [(across / 2 * sin(2 * pi * t), across / 2 * cos(2 * pi * t)) for t in turns]
        case Swag():
            return _hanging(path, turns)
        case Drape(points_m=points):
            return [(x, z) for x, _, z in points]
    raise TypeError(f"not a path: {path!r}")


def _hanging(swag: Swag, turns: Sequence[float]) -> list[Point]:
    """A chain y = a cosh(x / a) of the length that the estimator finds for it."""
    a = _chain_parameter(swag.span_m, path_length(swag))
    xs = [swag.span_m * (t - 0.5) for t in turns]
    return [(x, a * cosh(x / a)) for x in xs]


def _chain_parameter(span: float, length: float) -> float:
    """Solves span sinh(u) / u = length for u = span / (2 a) by halving: it rises with u."""
    low, high = 1e-6, 20.0
    for _ in range(80):
        u = (low + high) / 2
        if span * sinh(u) / u < length:
            low = u
        else:
            high = u
    return span / (2 * low)
