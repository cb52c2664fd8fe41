"""What is believed of some numbers before and after jobs: normal, their spread learned too.

A job's logarithm is y = x . b + noise, the noise normal with variance s2. The prior is
normal-inverse-gamma, b | s2 ~ N(m, s2 / P), s2 ~ InvGamma(shape, rate), as both the level and how
much jobs differ are the maker's own and neither is known: with a known variance three jobs
that differ wildly would count for as much as three that agree. It is conjugate (any text on
Bayesian linear models, for example Gelman et al., Bayesian Data Analysis, chapter 14):

    P_n = X'X + P
    m_n = (X'y + P m) / P_n
    shape_n = shape + n / 2
    rate_n = rate + (y'y + m'P m - m_n'P_n m_n) / 2

and any x . b is then Student's t with 2 shape_n degrees of freedom.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import stdtrit

Numbers = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Belief:
    mean: Numbers
    precision: Numbers
    shape: float
    rate: float

    @property
    def degrees(self) -> float:
        return 2 * self.shape

    @property
    def variance(self) -> float:
        """Of one job about the middle: the scale of the inverse-gamma, rate / shape."""
        return self.rate / self.shape

    def after(self, rows: Sequence[Sequence[float]], values: Sequence[float]) -> "Belief":
        y = np.asarray(values, dtype=float)
        x = np.asarray(rows, dtype=float).reshape(len(y), len(self.mean))
        precision = self.precision + x.T @ x
        before = self.precision @ self.mean
        mean = np.linalg.solve(precision, x.T @ y + before)
        squares = y @ y + self.mean @ before - mean @ precision @ mean
        return Belief(
            mean=mean,
            precision=precision,
            shape=self.shape + len(y) / 2,
            rate=self.rate + max(0.0, float(squares)) / 2,
        )

    def at(self, row: Sequence[float]) -> float:
        return float(np.asarray(row) @ self.mean)

    def interval(self, row: Sequence[float], share: float) -> tuple[float, float]:
        """Of the level itself, the middle `share` of what is believed."""
        return self._around(row, share, own_spread=0.0)

    def next_interval(self, row: Sequence[float], share: float) -> tuple[float, float]:
        """Of the next single job, which has its own spread besides."""
        return self._around(row, share, own_spread=1.0)

    def _around(
        self, row: Sequence[float], share: float, *, own_spread: float
    ) -> tuple[float, float]:
        x = np.asarray(row, dtype=float)
        scale = (self.variance * (own_spread + x @ np.linalg.solve(self.precision, x))) ** 0.5
        half = float(stdtrit(self.degrees, (1 + share) / 2) * scale)
        return self.at(row) - half, self.at(row) + half


def belief_around(
    means: Sequence[float], *, weights: Sequence[float], spread: float, spread_weight: float
) -> Belief:
    """A prior whose means count for as much as `weights` jobs, its spread as `spread_weight`."""
    return Belief(
        mean=np.asarray(means, dtype=float),
        precision=np.diag(np.asarray(weights, dtype=float)),
        shape=spread_weight / 2,
        rate=spread_weight * spread**2 / 2,
    )
