"""The picture of an estimate: the same balloons that were counted, each where it settles."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from random import Random
from typing import Final, Literal

import numpy as np

from ..catalogue import Kind
from ..estimating import Estimate
from ..paths import path_top
from ..problems import Problem
from ..spec import Arch, Backing, Drape, Posts, Ring
from .course import Course, Floats, course_of
from .placing import settle
from .problems import PictureError
from .relaxing import joined
from .sizes import FOIL_POINT_LENGTH_M
from .strung import Balloon, Knot, strung
from .surface import fix_bursts, point_middle, tuck_minis

Backdrop = Literal["doorway", "person"]
_SETTLED: Final = frozenset({"cluster", "accent", "single"})
# Some ten seconds and two megabytes; a garland that one looks at as a whole has far fewer.
MOST_BALLOONS: Final = 6000
_OVER_A_DOOR_M: Final = 2.3
# In half widths before the path: what is further forward is in full light.
_LIT_AHEAD_OF: Final = 0.25
_DEEP: Final = 1.6


@dataclass(frozen=True, kw_only=True)
class PlacedBalloon:
    """Metres: x to the right, y up, z to the viewer; the path lies near z = 0.

    A foil point also has a `neck` and a `tip`; its own place is where it is widest.
    `shade` is 0 at the front of the garland and 1 deep inside it.
    """

    x_m: float
    y_m: float
    z_m: float
    diameter_m: float
    colour: str
    kind: Kind
    nominal_in: float | None
    use: str
    shade: float
    neck: tuple[float, float] | None = None
    tip: tuple[float, float] | None = None


@dataclass(frozen=True, kw_only=True)
class Extent:
    """Metres from edge to edge, balloons and foil points together."""

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


@dataclass(frozen=True, kw_only=True)
class Picture:
    """Balloons from the back to the front. `ground_m` is the floor's height, where there is one.

    `unrolled`: the path goes round a corner, and is drawn flat as if that were opened.
    """

    balloons: tuple[PlacedBalloon, ...]
    extent: Extent
    ground_m: float
    backdrop: Backdrop | None
    unrolled: bool
    face_m2: float


def picture(
    estimate: Estimate, *, seed: int | None = None, backdrop: Backdrop | None = "doorway"
) -> Picture:
    """The same for a spec and a seed; the seed is the spec's own unless one is given.

    Raises PictureError above `MOST_BALLOONS`.
    """
    _refuse_too_many(sum(line.need for line in estimate.balloons))
    seed = estimate.spec.seed if seed is None else seed
    course = course_of(estimate.spec)
    placed = tuple(_placed(strung(estimate, Random(seed)), course, estimate, seed))
    extent = _extent(placed)
    return Picture(
        balloons=tuple(sorted(placed, key=lambda balloon: balloon.z_m)),
        extent=extent,
        ground_m=_ground(estimate, extent),
        backdrop=backdrop,
        unrolled=course.unrolled,
        face_m2=estimate.face_area_m2,
    )


def _refuse_too_many(balloons: int) -> None:
    if balloons > MOST_BALLOONS:
        message = (
            f"a picture shows at most {MOST_BALLOONS:,} balloons, and this garland has "
            f"{balloons:,}: picture it in shorter pieces"
        )
        raise PictureError([Problem("", message)])


def _placed(
    knots: Sequence[Knot], course: Course, estimate: Estimate, seed: int
) -> Iterator[PlacedBalloon]:
    rng = np.random.default_rng(seed)
    wall = estimate.spec.backing is Backing.FLAT
    body = [knot for knot in knots if knot.item.what in _SETTLED]
    minis = [knot for knot in knots if knot.item.what == "mini"]
    bursts = [knot for knot in knots if knot.item.what == "starburst"]
    bodies = settle(body, course, wall=wall, rng=rng)
    yield from _rounds(_balloons(body), bodies.centres, course)
    if minis:
        tucked = tuck_minis(minis, bodies, course, wall=wall, rng=rng)
        yield from _rounds(_balloons(minis), tucked.centres, course)
        bodies = joined(bodies, tucked)
    accents = [knot for knot in knots if knot.item.what == "accent"]
    fixed = fix_bursts(bursts, accents, bodies, course, rng=rng)
    for knot, burst in zip(bursts, fixed, strict=True):
        tips = burst.middle + burst.points * FOIL_POINT_LENGTH_M.value
        spots = zip(knot.balloons, point_middle(burst), tips, strict=True)
        for balloon, middle, tip in spots:
            yield _place(balloon, middle, 0.0, neck=_flat(burst.middle), tip=_flat(tip))


def _balloons(knots: Iterable[Knot]) -> list[Balloon]:
    return [balloon for knot in knots for balloon in knot.balloons]


def _rounds(
    balloons: Sequence[Balloon], centres: Floats, course: Course
) -> Iterator[PlacedBalloon]:
    _, near = course.tree.query(centres)
    half = course.widths[near] / 2
    ahead = (centres[:, 2] - course.points[near, 2]) / half
    shades = np.clip((_LIT_AHEAD_OF - ahead) / _DEEP, 0, 1)
    for balloon, centre, shade in zip(balloons, centres, shades, strict=True):
        yield _place(balloon, centre, float(shade))


def _place(
    balloon: Balloon,
    centre: Floats,
    shade: float,
    *,
    neck: tuple[float, float] | None = None,
    tip: tuple[float, float] | None = None,
) -> PlacedBalloon:
    x, y, z = (float(part) for part in centre)
    return PlacedBalloon(x_m=x, y_m=y, z_m=z, shade=shade, neck=neck, tip=tip, **vars(balloon))


def _flat(point: Floats) -> tuple[float, float]:
    return float(point[0]), float(point[1])


def _extent(balloons: Sequence[PlacedBalloon]) -> Extent:
    x = np.array([(b.x_m - b.diameter_m / 2, b.x_m + b.diameter_m / 2) for b in balloons])
    y = np.array([(b.y_m - b.diameter_m / 2, b.y_m + b.diameter_m / 2) for b in balloons])
    tips = np.array([b.tip for b in balloons if b.tip]).reshape(-1, 2)
    return Extent(
        left=float(min(x.min(), tips[:, 0].min(initial=np.inf))),
        right=float(max(x.max(), tips[:, 0].max(initial=-np.inf))),
        low=float(min(y.min(), tips[:, 1].min(initial=np.inf))),
        high=float(max(y.max(), tips[:, 1].max(initial=-np.inf))),
    )


def _ground(estimate: Estimate, extent: Extent) -> float:
    """Hung things have the floor as far below as the spec's site says, or below a door's top."""
    path, height = estimate.spec.path, estimate.spec.site.height_m
    match path:
        case Arch() | Posts() | Drape():
            floor = 0.0
        case Ring():
            floor = path_top(path) - height if height else extent.low
        case _:
            floor = -(height or _OVER_A_DOOR_M)
    return min(floor, extent.low)
