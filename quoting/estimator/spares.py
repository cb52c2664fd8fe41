"""How many to order so that enough survive."""

from functools import lru_cache
from math import exp, lgamma, log, log1p, sqrt

# Below this many standard deviations under the mean the tail is under 1e-30.
_NEGLIGIBLE_SIGMAS = 12


@lru_cache(maxsize=4096)
def order_quantity(need: int, loss_rate: float, confidence: float) -> int:
    """The smallest n with P(Binomial(n, 1 - loss_rate) >= need) >= confidence.

    Counted by failures: n - need losses before the last success are negative binomial,
    so the terms are summed from the few-losses end until they reach the confidence.
    """
    if need <= 0 or loss_rate <= 0:
        return max(need, 0)
    lost = _first_lost_that_matters(need, loss_rate)
    term = _chance_of_losing(lost, need, loss_rate)
    reached = term
    while reached < confidence:
        term *= loss_rate * (need + lost) / (lost + 1)
        lost += 1
        reached += term
    return need + lost


def _first_lost_that_matters(need: int, loss_rate: float) -> int:
    mean = need * loss_rate / (1 - loss_rate)
    sigma = sqrt(mean / (1 - loss_rate))
    return max(0, int(mean - _NEGLIGIBLE_SIGMAS * sigma))


def _chance_of_losing(lost: int, need: int, loss_rate: float) -> float:
    ways = lgamma(need + lost) - lgamma(lost + 1) - lgamma(need)
    return exp(ways + need * log1p(-loss_rate) + lost * log(loss_rate))
