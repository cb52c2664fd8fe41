"""A change to the card that the jobs speak for: shown with its range, never made by itself."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, log

from .belief import Belief
from .priors import ENOUGH_JOBS, LEAST_CHANGE, SURE
from .unit_times import as_on_card, card_limits

TOO_FEW = "Too few jobs to say: {counted} counted, and it takes {enough}."
WITHIN = "The card’s number lies within the range, so there is nothing to change yet."
SMALL = "The change is under {least:.0%}, too small to matter."
ONLY_APART = "It hangs on jobs that stand apart from the others: look at those first."
AT_LIMIT = "The jobs speak for a number that the card does not take: look at how they were done."
ADOPT = "The range leaves out the card’s number."


@dataclass(frozen=True, kw_only=True)
class Learned:
    """A factor on the card's value: its middle, and the ends of the SURE middle of it."""

    factor: float
    low: float
    high: float

    @property
    def leaves_out_card(self) -> bool:
        return self.low > 1 or self.high < 1

    @property
    def is_small(self) -> bool:
        return abs(log(self.factor)) < log(1 + LEAST_CHANGE)


@dataclass(frozen=True, kw_only=True)
class Proposal:
    """`name` is a number of the rate card; low to high holds SURE of what is believed of it.

    `apart` are jobs counted in it that stand apart; `left_out` those the owner left out.
    """

    name: str
    card: float
    learned: float
    low: float
    high: float
    jobs: int
    left_out: tuple[str, ...]
    apart: tuple[str, ...]
    is_worth_adopting: bool
    why: str


def learned_from(belief: Belief, row: Sequence[float]) -> Learned:
    low, high = belief.interval(row, SURE)
    return Learned(factor=exp(belief.at(row)), low=exp(low), high=exp(high))


def proposed(
    name: str,
    card: float,
    learned: Learned,
    *,
    without_apart: Learned,
    jobs: int,
    left_out: tuple[str, ...],
    apart: tuple[str, ...],
) -> Proposal:
    is_worth, why = _verdict(name, card, learned, without_apart=without_apart, jobs=jobs)
    return Proposal(
        name=name,
        card=card,
        learned=as_on_card(name, card * learned.factor),
        low=as_on_card(name, card * learned.low),
        high=as_on_card(name, card * learned.high),
        jobs=jobs,
        left_out=left_out,
        apart=apart,
        is_worth_adopting=is_worth,
        why=why,
    )


def _verdict(
    name: str, card: float, learned: Learned, *, without_apart: Learned, jobs: int
) -> tuple[bool, str]:
    """Whether to adopt, and why or why not. Jobs that stand apart never decide by themselves."""
    low, high = card_limits(name)
    if jobs < ENOUGH_JOBS:
        return False, TOO_FEW.format(counted=jobs, enough=ENOUGH_JOBS)
    if not learned.leaves_out_card:
        return False, WITHIN
    if learned.is_small:
        return False, SMALL.format(least=LEAST_CHANGE)
    if not low <= card * learned.factor <= high:
        return False, AT_LIMIT
    same_way = (learned.factor > 1) == (without_apart.factor > 1)
    if not (without_apart.leaves_out_card and same_way):
        return False, ONLY_APART
    return True, ADOPT
