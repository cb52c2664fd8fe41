"""What one job says of one phase: seconds against what the card expects."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from math import log, prod

from ..rates import UnitTimes
from .unit_times import TIMES_OF_PHASE


@dataclass(frozen=True, kw_only=True)
class Observation:
    """Seconds of persons; `expected_s` by today's card. `is_left_out` by the owner."""

    job: str
    phase: str
    expected_s: float
    actual_s: float
    is_left_out: bool = False
    is_outdoor: bool = False
    is_cold: bool = False

    def __post_init__(self) -> None:
        if not (self.expected_s > 0 and self.actual_s > 0):
            raise ValueError(f"{self.phase} of {self.job} has no time to compare")

    @property
    def ratio(self) -> float:
        return self.actual_s / self.expected_s

    @property
    def log_ratio(self) -> float:
        return log(self.ratio)


def observations_of(
    job: str,
    *,
    planned_s: Mapping[str, float],
    actual_s: Mapping[str, float | None],
    planned_by: UnitTimes,
    card: UnitTimes,
    left_out: Collection[str] = (),
    is_outdoor: bool = False,
    is_cold: bool = False,
) -> tuple[Observation, ...]:
    """Of the phases that were planned, timed, and have unit times that could be learned."""
    found = []
    for phase, expected in _expected(planned_s, actual_s, planned_by, card):
        actual = actual_s.get(phase)
        if actual and expected > 0:
            found.append(
                Observation(
                    job=job,
                    phase=phase,
                    expected_s=expected,
                    actual_s=actual,
                    is_left_out=phase in left_out,
                    is_outdoor=is_outdoor,
                    is_cold=is_cold,
                )
            )
    return tuple(found)


def card_change(phase: str, *, since: UnitTimes, card: UnitTimes) -> float:
    """How many times the phase's seconds are what they were by the card of that job.

    Exact where the phase has one time or all of its times moved together, as adopted proposals
    move them; else the geometric mean of the changes.
    """
    names = TIMES_OF_PHASE[phase]
    changes = [
        getattr(card, name) / getattr(since, name)
        for name in names
        if getattr(card, name) > 0 and getattr(since, name) > 0
    ]
    return prod(changes) ** (1 / len(changes)) if changes else 1.0


def _expected(
    planned_s: Mapping[str, float],
    actual_s: Mapping[str, float | None],
    planned_by: UnitTimes,
    card: UnitTimes,
) -> Iterable[tuple[str, float]]:
    """Checking is a share of hanging: it is expected of the hanging that really was, so that slow
    hanging does not count twice."""
    for phase in TIMES_OF_PHASE:
        planned = planned_s.get(phase, 0.0)
        if phase == "check and fill":
            hung, planned_hang = actual_s.get("hang"), planned_s.get("hang")
            planned *= hung / planned_hang if hung and planned_hang else 1.0
        yield phase, planned * card_change(phase, since=planned_by, card=card)
