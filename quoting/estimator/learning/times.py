"""Unit times from the hours that jobs really took: one factor for each phase.

Hanging goes slower outdoors and in the cold or rain, and the card has a factor for each. They are
learned together with the level, so that a run of cold jobs does not slow all the others.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import exp

from ..rates import UnitTimes
from .belief import Belief
from .observed import Observation
from .outliers import stand_apart
from .priors import ENOUGH_JOBS, SURE, TIME_SIGMA, prior
from .proposal import Learned, Proposal, learned_from, proposed
from .unit_times import CONDITIONS_OF_PHASE, TIMES_OF_PHASE


@dataclass(frozen=True, kw_only=True)
class PhaseLearning:
    """`factor` is on the card's times; `next_job` holds SURE of single jobs, inside and warm where
    the phase has conditions."""

    phase: str
    factor: Learned
    next_job: tuple[float, float]
    observations: tuple[Observation, ...]
    apart: tuple[Observation, ...]
    proposals: tuple[Proposal, ...]

    @property
    def is_worth_adopting(self) -> bool:
        return bool(self.changes)

    @property
    def changes(self) -> dict[str, float]:
        """What there is to adopt. The unit times of a phase move together or not at all."""
        return {each.name: each.learned for each in self.proposals if each.is_worth_adopting}


@dataclass(frozen=True, kw_only=True)
class _Fit:
    belief: Belief
    conditions: tuple[str, ...]

    @property
    def level(self) -> list[float]:
        return [1.0] + [0.0] * len(self.conditions)

    def effect(self, condition: str) -> Learned:
        """1 where it was not told apart from the level."""
        if condition not in self.conditions:
            return Learned(factor=1.0, low=1.0, high=1.0)
        return learned_from(self.belief, [0.0, *(float(c == condition) for c in self.conditions)])


def learn_times(observations: Iterable[Observation], card: UnitTimes) -> tuple[PhaseLearning, ...]:
    """In the order of the work, the phases of which at least one job says something. Every job
    counts the same, however large it was."""
    known = tuple(observations)
    by_phase = ((phase, [o for o in known if o.phase == phase]) for phase in TIMES_OF_PHASE)
    return tuple(_learn(phase, found, card) for phase, found in by_phase if found)


def _learn(phase: str, observations: Sequence[Observation], card: UnitTimes) -> PhaseLearning:
    counted = [o for o in observations if not o.is_left_out]
    flags = stand_apart([o.log_ratio for o in counted])
    apart = tuple(o for o, is_apart in zip(counted, flags, strict=True) if is_apart)
    fit = _fit(phase, counted)
    low, high = fit.belief.next_interval(fit.level, SURE)
    return PhaseLearning(
        phase=phase,
        factor=learned_from(fit.belief, fit.level),
        next_job=(exp(low), exp(high)),
        observations=tuple(observations),
        apart=apart,
        proposals=tuple(_proposals(phase, observations, apart, fit, card)),
    )


def _proposals(
    phase: str,
    observations: Sequence[Observation],
    apart: Sequence[Observation],
    fit: _Fit,
    card: UnitTimes,
) -> Iterator[Proposal]:
    counted = [o for o in observations if not o.is_left_out]
    without = _fit(phase, [o for o in counted if o not in apart])
    labels = {
        "left_out": tuple(o.job for o in observations if o.is_left_out),
        "apart": tuple(o.job for o in apart),
    }
    for name in TIMES_OF_PHASE[phase]:
        yield proposed(
            name,
            getattr(card, name),
            learned_from(fit.belief, fit.level),
            without_apart=learned_from(without.belief, without.level),
            jobs=len(counted),
            **labels,
        )
    for condition in fit.conditions:
        name = CONDITIONS_OF_PHASE[phase][condition]
        yield proposed(
            name,
            getattr(card, name),
            fit.effect(condition),
            without_apart=without.effect(condition),
            jobs=sum(getattr(o, condition) for o in counted),
            **labels,
        )


def _fit(phase: str, counted: Sequence[Observation]) -> _Fit:
    conditions = tuple(_told_apart(phase, counted))
    rows = [[1.0, *(float(getattr(o, each)) for each in conditions)] for o in counted]
    belief = prior(spread=TIME_SIGMA, further=len(conditions))
    return _Fit(belief=belief.after(rows, [o.log_ratio for o in counted]), conditions=conditions)


def _told_apart(phase: str, counted: Sequence[Observation]) -> Iterator[str]:
    """Conditions that enough jobs had and enough had not."""
    for condition in CONDITIONS_OF_PHASE.get(phase, {}):
        having = sum(getattr(o, condition) for o in counted)
        if min(having, len(counted) - having) >= ENOUGH_JOBS:
            yield condition
