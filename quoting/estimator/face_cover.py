"""Whether there are balloons enough to close the face at all, before any is placed."""

from collections.abc import Iterable
from math import pi
from typing import Final

from . import constants as c
from .balloons import BalloonLine

# Of 390 random garlands of every path, backing and size, all 376 at or above this were
# pictured at 0.91 to 1.08 of their face; below it there is too little to cover it.
ENOUGH: Final = 1.1
_FACE_USES: Final = frozenset({"base", "accent"})


def flat_cover(balloons: Iterable[BalloonLine], face_area_m2: float) -> float:
    """Base and accents laid side by side, as a share of the face: sum of pi/4 E[d^2] over it.

    E[d^2] over an even range [a, b] is (a^2 + a b + b^2) / 3.
    """
    area = sum(
        line.need * _mean_disc(line.inflated_in)
        for line in balloons
        if line.use in _FACE_USES and line.inflated_in
    )
    return area / face_area_m2


def _mean_disc(inflated_in: tuple[float, float]) -> float:
    a, b = (inches * c.METRES_PER_INCH for inches in inflated_in)
    return pi / 4 * (a * a + a * b + b * b) / 3
