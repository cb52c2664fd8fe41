"""Sharing whole things out in proportion: clusters among colours, balloons among sizes."""

from collections.abc import Sequence
from decimal import Decimal
from math import lcm


def webster(total: int, shares: Sequence[float]) -> tuple[int, ...]:
    """Webster's method (Sainte-Laguë: divisors 1, 3, 5, ...); ties to the earlier share.

    Unlike largest remainder it never takes a seat away when the total grows, so counts
    and cost are monotone and a budget can be fitted by bisection. Whole-number
    arithmetic throughout: a float tie could fall either way.
    """
    weights = _whole_weights(shares)
    whole = sum(weights)
    if total < 0 or any(weight < 0 for weight in weights):
        raise ValueError("a total and its shares cannot be negative")
    if not whole:
        raise ValueError("at least one share must be above zero")
    seats = _seats_above(total - len(weights), weights, whole)
    for _ in range(total - sum(seats)):
        seats[_next_seat(weights, seats)] += 1
    return tuple(seats)


def _whole_weights(shares: Sequence[float]) -> list[int]:
    """Shares as typed (0.6 means six tenths, not its nearest binary fraction)."""
    ratios = [Decimal(str(share)).as_integer_ratio() for share in shares]
    common = lcm(*(bottom for _, bottom in ratios))
    return [top * (common // bottom) for top, bottom in ratios]


def _seats_above(total: int, weights: Sequence[int], whole: int) -> list[int]:
    """Quotas of a slightly smaller total, rounded half down.

    Every seat given here ranks before every seat not given, so going on one by one from
    here ends as if begun from nothing, without a million steps.
    """
    if total <= 0:
        return [0] * len(weights)
    return [max(0, -((whole - 2 * total * w) // (2 * whole))) for w in weights]


def _next_seat(weights: Sequence[int], seats: Sequence[int]) -> int:
    best = 0
    for i in range(1, len(weights)):
        if weights[i] * (2 * seats[best] + 1) > weights[best] * (2 * seats[i] + 1):
            best = i
    return best
