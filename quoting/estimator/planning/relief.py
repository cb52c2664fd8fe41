"""What would help where a plan does not fit: each by itself, and how much it would bring."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum
from functools import cached_property
from typing import Final

from .fitting import most_made
from .making import Bench, in_order, room_for
from .work import STEP_MINUTES, JobToMake, Session

MOST_DAYS_OLDER: Final = 3
_WHOLE_DAY: Final = 24 * 60


class Kind(StrEnum):
    MORE_HOURS = "more hours"
    LONGER_SESSIONS = "longer sessions"
    OLDER_BALLOONS = "older balloons"
    ON_THE_DAY = "on the day of the install"


@dataclass(frozen=True, kw_only=True)
class Relief:
    """Done alone it saves `saves_minutes` of what is short: `minutes` more on the day `on`, or in
    each session; balloons of `job` `days` older; or `job` made on the day of its install too."""

    kind: Kind
    saves_minutes: int
    on: date | None = None
    job: str = ""
    minutes: int = 0
    days: int = 0


def what_would_help(
    jobs: Iterable[JobToMake], *, bench: Bench, fixed: Iterable[Session] = ()
) -> tuple[Relief, ...]:
    """What saves most first. Nothing where all of it fits, or where none of these helps."""
    question = _Question(jobs=tuple(in_order(jobs)), bench=bench, fixed=tuple(fixed))
    if not question.short:
        return ()
    found = (
        *_more_hours(question),
        *_longer_sessions(question),
        *_older_balloons(question),
        *_on_the_day(question),
    )
    return tuple(sorted(found, key=lambda relief: -relief.saves_minutes))


@dataclass(frozen=True, kw_only=True)
class _Question:
    jobs: tuple[JobToMake, ...]
    bench: Bench
    fixed: tuple[Session, ...]

    @cached_property
    def short(self) -> int:
        """Steps that find no place."""
        room = room_for(self.jobs, bench=self.bench, fixed=self.fixed)
        return sum(room.needs) - sum(most_made(room))

    def saves(self, *, bench: Bench | None = None, jobs: Sequence[JobToMake] | None = None) -> int:
        """Minutes."""
        other = replace(self, bench=bench or self.bench, jobs=tuple(jobs or self.jobs))
        return (self.short - other.short) * STEP_MINUTES

    def with_job(self, changed: JobToMake) -> tuple[JobToMake, ...]:
        return tuple(changed if job.job == changed.job else job for job in self.jobs)


def _more_hours(question: _Question) -> Iterator[Relief]:
    """Each step that a day gains makes at most one more, and the first ones do most: so as many
    minutes are asked for as they save, and those that make up for a day that is overfull."""
    free: Mapping[date, int] = question.bench.free_minutes
    needed = question.short * STEP_MINUTES
    for on in sorted(free):
        if not any(job.allows(on) for job in question.jobs):
            continue
        over = max(0, sum(s.minutes for s in question.fixed if s.on == on) - free[on])
        wide = {**free, on: free[on] + over + needed}
        if saved := question.saves(bench=replace(question.bench, free_minutes=wide)):
            yield Relief(kind=Kind.MORE_HOURS, on=on, minutes=saved + over, saves_minutes=saved)


def _longer_sessions(question: _Question) -> Iterator[Relief]:
    """The shortest that save as much as sessions of any length."""
    bench = question.bench
    most = question.saves(bench=replace(bench, session_minutes=_WHOLE_DAY))
    if not most:
        return
    for longer in range(STEP_MINUTES, _WHOLE_DAY, STEP_MINUTES):
        wide = replace(bench, session_minutes=bench.session_minutes + longer)
        if question.saves(bench=wide) == most:
            yield Relief(kind=Kind.LONGER_SESSIONS, minutes=longer, saves_minutes=most)
            return


def _older_balloons(question: _Question) -> Iterator[Relief]:
    """The fewest days older that save anything."""
    for job in question.jobs:
        for days in range(1, MOST_DAYS_OLDER + 1):
            older = replace(job, oldest_days=job.oldest_days + days, on_the_day=0 in job.ages())
            if saved := question.saves(jobs=question.with_job(older)):
                yield Relief(kind=Kind.OLDER_BALLOONS, job=job.job, days=days, saves_minutes=saved)
                break


def _on_the_day(question: _Question) -> Iterator[Relief]:
    for job in question.jobs:
        if 0 in job.ages():
            continue
        if saved := question.saves(jobs=question.with_job(replace(job, on_the_day=True))):
            yield Relief(kind=Kind.ON_THE_DAY, job=job.job, saves_minutes=saved)
