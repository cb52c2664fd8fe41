"""Whole cents, one way of rounding, and splits that lose nothing."""

from collections.abc import Sequence
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction


def round_cents(amount: Decimal) -> int:
    """Round an amount in cents half up (a tie goes away from zero)."""
    return int(amount.quantize(Decimal(1), rounding=ROUND_HALF_UP))


def share_bp(cents: int, basis_points: int) -> int:
    """The given share of an amount, in whole cents; 10 000 basis points are all of it."""
    return round_cents(Decimal(cents) * basis_points / 10_000)


def split_exactly(total_cents: int, weights: Sequence[int | float]) -> tuple[int, ...]:
    """Split whole cents in proportion to weights, to the last cent.

    Largest remainder, ties to the earlier part; equal parts when no weight is above
    zero. A negative total (a refund) is split like its opposite.
    """
    if total_cents < 0:
        return tuple(-part for part in split_exactly(-total_cents, weights))
    exact = [max(Fraction(weight), Fraction(0)) for weight in weights]
    if not exact:
        raise ValueError("there is nothing to split the amount among")
    if not sum(exact):
        exact = [Fraction(1)] * len(exact)
    quotas = [total_cents * weight / sum(exact) for weight in exact]
    parts = [int(quota) for quota in quotas]
    by_remainder = sorted(range(len(parts)), key=lambda i: parts[i] - quotas[i])
    for i in by_remainder[: total_cents - sum(parts)]:
        parts[i] += 1
    return tuple(parts)
