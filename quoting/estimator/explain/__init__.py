"""Any figure of an estimate opened: its formula, its numbers, and where each comes from."""

from collections.abc import Mapping
from itertools import chain

from ..estimating import Estimate
from .counts import counts, line_key
from .making import making
from .money import money, price_keys
from .sizing import sizing
from .term import Explanation, Term
from .work import work

__all__ = ["Explanation", "Term", "explain", "explanations", "line_key", "price_keys"]


def explanations(est: Estimate) -> Mapping[str, Explanation]:
    """Of every figure by its key, in the order in which they are worked out."""
    steps = chain.from_iterable(step(est) for step in (sizing, counts, making, work, money))
    return {found.key: found for found in steps}


def explain(est: Estimate, key: str) -> Explanation:
    """Raises KeyError for a figure that this estimate has not."""
    return explanations(est)[key]
