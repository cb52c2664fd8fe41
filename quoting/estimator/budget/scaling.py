"""A spec made larger or smaller in one way, within what a spec may be."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Final, Literal, get_args

from .. import constants as c
from ..filling import smallest_diameter
from ..paths import path_length
from ..spec import Drape, Path, Spec, Station

By = Literal["width", "length"]
FIT_BY: Final[tuple[By, ...]] = get_args(By)
_DIGITS = 6  # micrometres: what scaling leaves beyond them is float dust


def scaled(spec: Spec, by: By, scale: float) -> Spec:
    """Every width, or the whole path with its shape kept, times `scale`."""
    if by == "width":
        wider = tuple(Station(s.at, _rounded(s.width_m * scale)) for s in spec.width)
        return replace(spec, width=wider)
    return replace(spec, path=_scaled_path(spec.path, scale))


def _rounded(metres: float) -> float:
    return round(metres, _DIGITS)


def _scaled_path(path: Path, scale: float) -> Path:
    if isinstance(path, Drape):
        points = ((_rounded(v * scale) for v in point) for point in path.points_m)
        return Drape(points_m=tuple((x, y, z) for x, y, z in points))
    return replace(path, **{k: _rounded(v * scale) for k, v in vars(path).items()})


def scale_limits(spec: Spec, by: By) -> tuple[float, float]:
    """The smallest and largest scale of a spec that is still accepted."""
    if by == "width":
        widths = [station.width_m for station in spec.width]
        return _least_width(spec) / min(widths), c.WIDTH_M[1] / max(widths)
    lows, highs = zip(*_length_limits(spec.path), strict=True)
    return max(lows), min(highs)


def _least_width(spec: Spec) -> float:
    """Of one of its own balloons; of less where the spec itself asks for less."""
    narrowest = min(station.width_m for station in spec.width)
    return max(c.WIDTH_M[0], min(smallest_diameter(spec), narrowest))


def _length_limits(path: Path) -> Iterator[tuple[float, float]]:
    length = path_length(path)
    yield c.PATH_M[0] / length, c.PATH_M[1] / length
    if isinstance(path, Drape):
        furthest = max(abs(v) for point in path.points_m for v in point)
        yield 0, c.POINT_M[1] / furthest
        return
    for dimension in vars(path).values():
        yield c.DIMENSION_M[0] / dimension, c.DIMENSION_M[1] / dimension
