"""The cheapest whole bags that cover a need: exact, by dynamic programming over what is missing.

A score says how good a choice is as one whole number: cents first, then how many pieces are
bought (so, how many are left over), then how many bags. Scores add up and compare like numbers,
which makes every sum below respect all three in that order.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import gcd

# Room for each of the lower two parts: far more pieces than anyone buys.
_PART_BITS = 44
# Longer tables than this take seconds. Only bags of odd counts over 1,000 can ask for one.
STEPS_MOST = 500_000


def score_of(*, cents: int, pieces: int, bags: int) -> int:
    return (((cents << _PART_BITS) + pieces) << _PART_BITS) + bags


def cents_in(score: int) -> int:
    return score >> (2 * _PART_BITS)


@dataclass(frozen=True)
class Choice:
    """One bag: how much it gives towards the need, and its score."""

    gives: int
    score: int


@dataclass(frozen=True)
class Cover:
    """`times` says how often each choice is taken, in the order of the choices.

    Not exact: so much was needed, of bags so oddly counted, that the first part of it was covered
    with the bag that is best value, and only the rest is the best there is.
    """

    times: tuple[int, ...]
    score: int
    is_exact: bool = True


class CoverTable:
    """The best score for every need from nothing up to `need`.

    best(n) = min over choices c of best(max(0, n - gives_c)) + score_c, best(0) = 0:
    the unbounded covering form of Gilmore and Gomory's knapsack recursion (1966), from memory.
    """

    def __init__(self, need: int, choices: Sequence[Choice]) -> None:
        self.choices = choices
        self._step = gcd(*(choice.gives for choice in choices))
        gives = [choice.gives // self._step for choice in choices]
        pairs = [(gives[at], choices[at].score, at) for at in _worth_having(choices)]
        best, last = [0], [-1]
        for missing in range(1, self._steps(need) + 1):
            found, at = min((best[max(0, missing - give)] + score, at) for give, score, at in pairs)
            best.append(found)
            last.append(at)
        self._best, self._last, self._gives = best, last, gives

    def score(self, need: int) -> int:
        return self._best[self._steps(need)]

    def taken(self, need: int) -> list[int]:
        """Which choices, by their place, each as often as it is taken."""
        missing, taken = self._steps(need), []
        while missing > 0:
            taken.append(self._last[missing])
            missing -= self._gives[taken[-1]]
        return taken

    def _steps(self, need: int) -> int:
        """Every bag gives a multiple of the step, so a need is as good as the next multiple."""
        return max(0, -(-need // self._step))


def cover(need: int, choices: Sequence[Choice]) -> Cover:
    """There must be at least one choice, and each must give at least one."""
    best_value = min(
        range(len(choices)), key=lambda at: Fraction(choices[at].score, choices[at].gives)
    )
    surely, is_exact = _surely_best_value(need, choices, choices[best_value])
    rest = need - surely * choices[best_value].gives
    times = [0] * len(choices)
    times[best_value] = surely
    for at in CoverTable(rest, choices).taken(rest):
        times[at] += 1
    score = sum(many * choice.score for many, choice in zip(times, choices, strict=True))
    return Cover(tuple(times), score, is_exact)


def _surely_best_value(need: int, choices: Sequence[Choice], best: Choice) -> tuple[int, bool]:
    """How many bags of the best value can be taken at once, and whether that loses nothing.

    Among as many other bags as the best one has steps, some together give a multiple of it, and
    it gives the same for no more. So fewer others than that are ever needed, and what they cannot
    give is the best one's.
    """
    step = gcd(*(choice.gives for choice in choices))
    others_give_most = (best.gives // step - 1) * max(choice.gives for choice in choices)
    surely = max(0, (need - others_give_most) // best.gives)
    if need - surely * best.gives <= STEPS_MOST * step:
        return surely, True
    return -(-(need - STEPS_MOST * step) // best.gives), False


def _worth_having(choices: Sequence[Choice]) -> Iterable[int]:
    """Without those of which another gives as much or more for no worse a score."""
    ordered = sorted(range(len(choices)), key=lambda at: (-choices[at].gives, choices[at].score))
    best = None
    for at in ordered:
        if best is None or choices[at].score < best:
            best = choices[at].score
            yield at
