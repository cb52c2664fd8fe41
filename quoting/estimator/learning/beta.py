"""What is known about a share after some tries: a Beta distribution, updated by counting.

Bernoulli tries with a Beta prior have a Beta posterior: Beta(a + hits, b + misses); see any
text on Bayesian data analysis, for example Downey, "Think Bayes".
"""

from dataclasses import dataclass
from math import sqrt

import numpy as np
from scipy.special import betainc, betaincinv

# Midpoints of this many slices of the one distribution, each weighed against the other: the
# error of the chance is far below a thousandth, which is finer than it is ever shown.
_SLICES = 1000


@dataclass(frozen=True)
class Beta:
    a: float
    b: float

    @property
    def mean(self) -> float:
        return self.a / (self.a + self.b)

    @property
    def variance(self) -> float:
        return self.mean * (1 - self.mean) / (self.a + self.b + 1)

    def standard_distance(self, other: "Beta") -> float:
        """How far its mean is above the other's, in standard deviations of the difference."""
        return (self.mean - other.mean) / sqrt(self.variance + other.variance)

    def after(self, *, hits: int, tries: int) -> "Beta":
        if not 0 <= hits <= tries:
            raise ValueError(f"{hits} of {tries} is not a count of hits")
        return Beta(self.a + hits, self.b + tries - hits)

    def interval(self, share: float) -> tuple[float, float]:
        """The middle `share` of it: as much is left out below as above."""
        tail = (1 - share) / 2
        return tuple(float(betaincinv(self.a, self.b, at)) for at in (tail, 1 - tail))

    def chance_above(self, value: float) -> float:
        return 1 - float(betainc(self.a, self.b, value))

    def chance_above_other(self, other: "Beta", *, slices: int = _SLICES) -> float:
        """That a value drawn from this one is above one drawn from the other."""
        middles = (np.arange(slices) + 0.5) / slices
        values = betaincinv(self.a, self.b, middles)
        return float(betainc(other.a, other.b, values).mean())


def beta_around(mean: float, *, weight: float) -> Beta:
    """A prior that counts for as much as `weight` tries."""
    return Beta(mean * weight, (1 - mean) * weight)
