"""How good the estimates were: how many jobs fell within their stated range, and which way not.

The share within is held against the SURE the range claims, with the exact interval of a
binomial share (Clopper and Pearson, Biometrika 26, 1934), which is never too narrow.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import exp, log
from statistics import median
from typing import Final

from scipy.special import betaincinv

from .observed import Observation
from .outliers import sigma_of
from .priors import SURE

# With ten jobs, five within are still nothing strange for a range of 80 %, four are: fewer
# jobs could show next to nothing.
ENOUGH_RANGES: Final = 10
ENOUGH_RATIOS: Final = 5
CONFIDENCE: Final = 0.95
NEAR: Final = 0.05  # an estimate that is off by less is called right
_NORMAL_80: Final = 1.2816  # standard deviations either side that hold 80 %


class Verdict(StrEnum):
    TOO_FEW = "too few"
    HOLDS = "holds"
    TOO_NARROW = "too narrow"
    TOO_WIDE = "too wide"


@dataclass(frozen=True, kw_only=True)
class RangedJob:
    """What was estimated and its stated range, and what it came to: all in one unit."""

    job: str
    low: float
    estimate: float
    high: float
    actual: float

    @property
    def is_within(self) -> bool:
        return self.low <= self.actual <= self.high


@dataclass(frozen=True, kw_only=True)
class Calibration:
    """`sure_low` to `sure_high` is where the true share within may lie, at CONFIDENCE."""

    jobs: int
    within: int
    above: int
    below: int
    stated: float
    sure_low: float
    sure_high: float
    verdict: Verdict

    @property
    def share(self) -> float | None:
        return self.within / self.jobs if self.jobs else None

    @property
    def words(self) -> str:
        if self.verdict is Verdict.TOO_FEW:
            return f"Too few jobs to say: {self.jobs}, and it takes {ENOUGH_RANGES}."
        counted = f"{self.within} of {self.jobs} jobs fell within their range"
        stated = f"{self.stated:.0%}"
        if self.verdict is Verdict.HOLDS:
            return f"{counted}. That is what a range for {stated} of jobs should do."
        if self.verdict is Verdict.TOO_WIDE:
            return f"{counted}. The range is for {stated}: it is wider than it need be."
        return f"{counted}. The range is for {stated}: it is too narrow{self._which_way}."

    @property
    def _which_way(self) -> str:
        if self.above > 2 * self.below:
            return ", and most of the others came out above it"
        if self.below > 2 * self.above:
            return ", and most of the others came out below it"
        return ""


@dataclass(frozen=True, kw_only=True)
class PhaseError:
    """`ratio` is actual to estimate, the middle job; eight of ten lie from low to high, by the
    median of their distances, so that one wild job does not widen it. None with too few jobs."""

    phase: str
    jobs: int
    ratio: float
    low: float | None
    high: float | None

    @property
    def words(self) -> str:
        if self.low is None:
            return f"Too few jobs to say: {self.jobs}, and it takes {ENOUGH_RATIOS}."
        if abs(log(self.ratio)) < log(1 + NEAR):
            return "About as estimated."
        more = "more" if self.ratio > 1 else "less"
        return f"Usually takes {abs(self.ratio - 1):.0%} {more} than estimated."


def calibration(jobs: Sequence[RangedJob], *, stated: float = SURE) -> Calibration:
    within = sum(job.is_within for job in jobs)
    low, high = share_interval(within, len(jobs), CONFIDENCE)
    return Calibration(
        jobs=len(jobs),
        within=within,
        above=sum(job.actual > job.high for job in jobs),
        below=sum(job.actual < job.low for job in jobs),
        stated=stated,
        sure_low=low,
        sure_high=high,
        verdict=_verdict(len(jobs), low, high, stated),
    )


def share_interval(hits: int, tries: int, confidence: float) -> tuple[float, float]:
    """Clopper-Pearson: the ends of Beta(k, n - k + 1) and Beta(k + 1, n - k)."""
    tail = (1 - confidence) / 2
    low = float(betaincinv(hits, tries - hits + 1, tail)) if hits else 0.0
    high = float(betaincinv(hits + 1, tries - hits, 1 - tail)) if hits < tries else 1.0
    return low, high


def phase_errors(observations: Iterable[Observation]) -> tuple[PhaseError, ...]:
    """By phase in the order met, of the jobs that are not left out."""
    logs: dict[str, list[float]] = {}
    for each in observations:
        if not each.is_left_out:
            logs.setdefault(each.phase, []).append(each.log_ratio)
    return tuple(_error(phase, values) for phase, values in logs.items())


def _error(phase: str, logs: Sequence[float]) -> PhaseError:
    middle = median(logs)
    half = _NORMAL_80 * sigma_of(logs)
    has_enough = len(logs) >= ENOUGH_RATIOS
    return PhaseError(
        phase=phase,
        jobs=len(logs),
        ratio=exp(middle),
        low=exp(middle - half) if has_enough else None,
        high=exp(middle + half) if has_enough else None,
    )


def _verdict(jobs: int, low: float, high: float, stated: float) -> Verdict:
    if jobs < ENOUGH_RANGES:
        return Verdict.TOO_FEW
    if high < stated:
        return Verdict.TOO_NARROW
    return Verdict.TOO_WIDE if low > stated else Verdict.HOLDS
