"""The width along the path: its exact integrals, and places spread by it."""

from collections.abc import Sequence
from itertools import pairwise

from .spec import Station

# A taper below this, over a whole segment, is flat: dividing by it would lose digits.
_FLAT = 1e-9


def face_area(length_m: float, width: Sequence[Station]) -> float:
    """Integral of W ds in m2, exact for widths that change linearly."""
    return length_m * sum((q.at - p.at) * (p.width_m + q.width_m) / 2 for p, q in pairwise(width))


def width_squared(length_m: float, width: Sequence[Station]) -> float:
    """Integral of W^2 ds in m3, exact for widths that change linearly."""
    return length_m * sum(
        (q.at - p.at) * (p.width_m**2 + p.width_m * q.width_m + q.width_m**2) / 3
        for p, q in pairwise(width)
    )


def places(count: int, width: Sequence[Station], *, power: int) -> list[float]:
    """`count` fractions of the path, as dense as W to the power; 0 is evenly spaced.

    Each place is the middle of an equal part of the integral of W^power.
    """
    parts = [_power_integral(p, q, power) for p, q in pairwise(width)]
    whole = sum(parts)
    found: list[float] = []
    segment, before = 0, 0.0
    for i in range(count):
        target = (i + 0.5) / count * whole
        while segment < len(parts) - 1 and before + parts[segment] < target:
            before += parts[segment]
            segment += 1
        found.append(_place_in(width[segment], width[segment + 1], target - before, power))
    return found


def _power_integral(p: Station, q: Station, power: int) -> float:
    """Integral of a linear width to a power: the mean of its products, times the step."""
    products = sum(p.width_m**k * q.width_m ** (power - k) for k in range(power + 1))
    return (q.at - p.at) * products / (power + 1)


def _place_in(p: Station, q: Station, part: float, power: int) -> float:
    """Where, from p on, the integral of W^power has grown to `part`."""
    slope = (q.width_m - p.width_m) / (q.at - p.at)
    if abs(q.width_m - p.width_m) < _FLAT:
        at = p.at + part / p.width_m**power
    else:
        order = power + 1
        end = max(p.width_m**order + order * slope * part, 0.0) ** (1 / order)
        at = p.at + (end - p.width_m) / slope
    return min(max(at, p.at), q.at)
