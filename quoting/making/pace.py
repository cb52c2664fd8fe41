"""How far the work is, and when it is finished at the pace so far."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise

from quoting.making.plan import BENCH_PHASES, Plan
from quoting.making.working import person_minutes
from quoting.models import WorkTime

# A pause longer than this between two counts is a break and not work.
BREAK = timedelta(minutes=10)
# Before so much work is done a pace says nothing, and the rate card's times stand.
ENOUGH_S = 300.0


@dataclass(frozen=True, kw_only=True)
class Pace:
    """Seconds of one person, by the rate card's times; `factor` is how many times as long it
    takes in truth. `people` are at work now."""

    done_s: float
    total_s: float
    worked_s: float
    people: int

    @property
    def is_measured(self) -> bool:
        return self.done_s >= ENOUGH_S and self.worked_s >= ENOUGH_S

    @property
    def factor(self) -> float:
        return self.worked_s / self.done_s if self.is_measured else 1.0

    @property
    def percent(self) -> int:
        """Never all of it before it is."""
        return int(100 * self.done_s / self.total_s) if self.total_s else 0

    @property
    def left_s(self) -> float:
        return (self.total_s - self.done_s) * self.factor / self.people

    @property
    def left_hours(self) -> float:
        return self.left_s / 3600

    def finish_at(self, now: datetime) -> datetime:
        return now + timedelta(seconds=self.left_s)


def pace_of(
    plan: Plan,
    counts: Mapping[str, int],
    *,
    times: Iterable[WorkTime],
    ticked_at: Sequence[datetime],
    now: datetime,
) -> Pace:
    """By the clocks where there are any, else by the moments of the counts."""
    bench = [each for each in times if each.phase in BENCH_PHASES]
    running = sum(each.people for each in bench if each.stopped_at is None)
    worked_s = 60.0 * person_minutes(bench, now=now) if bench else _worked_s(ticked_at)
    return Pace(
        done_s=sum(
            step.seconds * min(max(0, counts.get(step.name, 0)), step.target) for step in plan.steps
        ),
        total_s=sum(step.seconds * step.target for step in plan.steps),
        worked_s=worked_s,
        people=max(1, running),
    )


def _worked_s(moments: Sequence[datetime]) -> float:
    gaps = (later - earlier for earlier, later in pairwise(sorted(moments)))
    return sum(gap.total_seconds() for gap in gaps if gap <= BREAK)


def pace_together(paces: Iterable[Pace]) -> Pace:
    """Of jobs that are made together, by whoever is at work."""
    each = list(paces)
    return Pace(
        done_s=sum(pace.done_s for pace in each),
        total_s=sum(pace.total_s for pace in each),
        worked_s=sum(pace.worked_s for pace in each),
        people=max((pace.people for pace in each), default=1),
    )
