"""A traced path as it stands in the piece's own field, where it can be changed by hand."""

from collections.abc import Iterable
from math import dist
from typing import Final

from decor.display import METRES_PER_INCH
from decor.models.business import Units
from quoting.estimator.spec import Drape, Spec

# Finer than any mark on a photo, so that nothing is lost in writing it down.
_TENTHS_A_FOOT: Final = 120
_SAME_WITHIN_M: Final = 0.003

Point3 = tuple[float, float, float]


def points_text(points_m: Iterable[Point3], *, units: str) -> str:
    """A line a point: across, up; to a millimetre or a tenth of an inch."""
    said = _metres if units == Units.METRIC else _feet
    return "\n".join(f"{said(across)}, {said(up)}" for across, _, up in points_m)


def follows(spec: Spec | None, points_m: tuple[Point3, ...]) -> bool:
    """Whether a spec's path is still the traced one, but for the rounding of its text."""
    if spec is None or not isinstance(spec.path, Drape):
        return False
    theirs = spec.path.points_m
    return len(theirs) == len(points_m) and all(
        dist(one, other) <= _SAME_WITHIN_M for one, other in zip(theirs, points_m, strict=True)
    )


def _metres(metres: float) -> str:
    return f"{round(metres, 3) + 0.0:.3f} m"


def _feet(metres: float) -> str:
    tenths = round(abs(metres) / METRES_PER_INCH * 10)
    feet, rest = divmod(tenths, _TENTHS_A_FOOT)
    sign = "-" if metres < 0 and tenths else ""
    return f"{sign}{feet} ft {rest / 10:g} in"
