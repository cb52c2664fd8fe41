"""Margin is a share of the price; markup is a share of the cost. People mix them up."""

from quoting.estimator.pricing import price_at_margin

WHOLE_BP = 10_000


def markup_bp_of(margin_bp: int) -> int:
    """What is added to a cost of 10 000 to sell it at this margin: m / (1 - m), in basis points."""
    return price_at_margin(WHOLE_BP, margin_bp) - WHOLE_BP
