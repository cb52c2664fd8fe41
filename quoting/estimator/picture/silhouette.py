"""What a viewer sees covered: the union of discs, by their chords along close lines."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np

from .course import Floats
from .picturing import Picture, PlacedBalloon
from .sizes import FOIL_POINT_WIDEST

_LINE_M: Final = 0.002
_FACE_USES: Final = frozenset({"base", "accent"})
# A foil point is a string of discs, growing to its widest place and shrinking to its tip.
_BEADS: Final = 24


@dataclass(frozen=True, kw_only=True)
class Silhouette:
    """Areas in m2: of base and accents, and what each of the others adds to that alone."""

    face_m2: float
    base_and_accents_m2: float
    fillers_add_m2: float
    singles_add_m2: float
    starbursts_add_m2: float

    @property
    def ratio(self) -> float:
        return self.base_and_accents_m2 / self.face_m2


def silhouette(shown: Picture) -> Silhouette:
    body = _covered(shown.balloons, _FACE_USES)
    added = {
        use: _covered(shown.balloons, {*_FACE_USES, use}) - body
        for use in ("filler", "single", "starburst")
    }
    return Silhouette(
        face_m2=shown.face_m2,
        base_and_accents_m2=body,
        fillers_add_m2=added["filler"],
        singles_add_m2=added["single"],
        starbursts_add_m2=added["starburst"],
    )


def _covered(balloons: Iterable[PlacedBalloon], uses: Iterable[str]) -> float:
    wanted = frozenset(uses)
    discs = [disc for balloon in balloons if balloon.use in wanted for disc in _discs(balloon)]
    x, y, radii = np.array(discs).reshape(-1, 3).T
    return covered_area(x, y, radii)


def _discs(balloon: PlacedBalloon) -> Iterator[tuple[float, float, float]]:
    radius = balloon.diameter_m / 2
    if not (balloon.neck and balloon.tip):
        yield balloon.x_m, balloon.y_m, radius
        return
    for part in np.linspace(0, 1, _BEADS + 1)[1:-1]:
        thick = min(part / FOIL_POINT_WIDEST, (1 - part) / (1 - FOIL_POINT_WIDEST))
        x, y = (a + part * (b - a) for a, b in zip(balloon.neck, balloon.tip, strict=True))
        yield x, y, radius * thick


def covered_area(x: Floats, y: Floats, radii: Floats, *, line_m: float = _LINE_M) -> float:
    """m2. Exact along each line; lines 2 mm apart are within 0.1 % for balloons of 5 cm and up."""
    if not len(x):
        return 0.0
    first = np.ceil((y - radii) / line_m - 0.5).astype(np.intp)
    last = np.floor((y + radii) / line_m - 0.5).astype(np.intp)
    count = np.maximum(last - first + 1, 0)
    disc = np.repeat(np.arange(len(x)), count)
    line = np.arange(count.sum()) - np.repeat(np.cumsum(count) - count, count) + first[disc]
    half = np.sqrt(np.maximum(radii[disc] ** 2 - ((line + 0.5) * line_m - y[disc]) ** 2, 0))
    # Lines are laid end to end, far enough apart that no chord meets another line's.
    stride = float(np.ptp(x) + 4 * radii.max())
    shift = (line - line.min()) * stride + radii.max() - x.min()
    starts, stops = x[disc] - half + shift, x[disc] + half + shift
    order = np.argsort(starts, kind="stable")
    starts, stops = starts[order], np.maximum.accumulate(stops[order])
    before = np.concatenate([[0.0], stops[:-1]])
    return float(np.maximum(stops - np.maximum(starts, before), 0).sum() * line_m)
