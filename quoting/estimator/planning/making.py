"""When to make what: backward from the installs, balloons as fresh as the hours allow."""

from collections import defaultdict
from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import TypeVar

from .fitting import Room, Way, latest, most_made
from .work import STEP_MINUTES, JobToMake, Session

Key = TypeVar("Key", bound=Hashable)


@dataclass(frozen=True, kw_only=True)
class Short:
    """So many minutes of a job found no place."""

    job: str
    minutes: int


@dataclass(frozen=True, kw_only=True)
class Overfull:
    """What was fixed by hand on a day is so much more than the day has."""

    on: date
    minutes: int


@dataclass(frozen=True, kw_only=True)
class MakingPlan:
    """`sessions` by day, the fixed ones among them; `out_of_time` are fixed ones on days that are
    too early for the balloons or too late for the install: they are kept, and pointed out."""

    sessions: tuple[Session, ...]
    short: tuple[Short, ...]
    out_of_time: tuple[Session, ...]
    overfull: tuple[Overfull, ...]

    @property
    def fits(self) -> bool:
        return not self.short

    @property
    def short_minutes(self) -> int:
        return sum(each.minutes for each in self.short)


@dataclass(frozen=True, kw_only=True)
class Bench:
    """`free_minutes` of each day that can still be planned, before any session of these jobs; a
    day that is not in it has passed. A session is one job on one day."""

    free_minutes: Mapping[date, int]
    session_minutes: int

    def __post_init__(self) -> None:
        if self.session_minutes < STEP_MINUTES:
            raise ValueError(f"a session is at least {STEP_MINUTES} minutes")


def plan_making(
    jobs: Iterable[JobToMake],
    *,
    bench: Bench,
    fixed: Iterable[Session] = (),
    before: Iterable[Session] = (),
) -> MakingPlan:
    """As much as can be made, then as late as can be; `before` is what was planned, kept where it
    is as good. Where not all fits, the sooner installed is made whole."""
    ordered = in_order(jobs)
    kept = tuple(replace(session, is_fixed=True) for session in fixed)
    room = room_for(ordered, bench=bench, fixed=kept, before=before)
    made = most_made(room)
    steps = latest(room, made)
    planned = [
        Session(job=ordered[way.job].job, on=way.on, minutes=count * STEP_MINUTES)
        for way, count in zip(room.ways, steps, strict=True)
        if count
    ]
    rank = {job.job: at for at, job in enumerate(ordered)}
    sessions = sorted([*kept, *planned], key=lambda s: (s.on, rank.get(s.job, -1)))
    return MakingPlan(
        sessions=tuple(sessions),
        short=tuple(_short(ordered, kept, made)),
        out_of_time=tuple(_out_of_time(ordered, kept)),
        overfull=tuple(_overfull(kept, bench)),
    )


def in_order(jobs: Iterable[JobToMake]) -> list[JobToMake]:
    """Of the installs; on the same day as they were given."""
    ordered = sorted(jobs, key=lambda job: job.install_on)
    if len({job.job for job in ordered}) < len(ordered):
        raise ValueError("a job is given twice")
    return ordered


def room_for(
    ordered: Sequence[JobToMake],
    *,
    bench: Bench,
    fixed: Sequence[Session],
    before: Iterable[Session] = (),
) -> Room:
    taken = _minutes_by(fixed, lambda session: session.on)
    free = {
        on: max(0, minutes - taken[on]) // STEP_MINUTES
        for on, minutes in bench.free_minutes.items()
    }
    set_by_hand = {(session.job, session.on) for session in fixed}
    planned = {(s.job, s.on): s.minutes // STEP_MINUTES for s in before}
    ways = tuple(
        Way(
            job=at,
            on=on,
            age=age,
            most=min(bench.session_minutes // STEP_MINUTES, free[on]),
            before=planned.get((job.job, on), 0),
        )
        for at, job in enumerate(ordered)
        for age in job.ages()
        if free.get(on := job.day_of(age)) and (job.job, on) not in set_by_hand
    )
    needs = tuple(-(-minutes // STEP_MINUTES) for minutes in _still_to_plan(ordered, fixed))
    return Room(needs=needs, free=free, ways=ways)


def _still_to_plan(ordered: Sequence[JobToMake], fixed: Sequence[Session]) -> list[int]:
    done = _minutes_by(fixed, lambda session: session.job)
    return [max(0, job.minutes - done[job.job]) for job in ordered]


def _minutes_by(sessions: Iterable[Session], key: Callable[[Session], Key]) -> dict[Key, int]:
    found: dict[Key, int] = defaultdict(int)
    for session in sessions:
        found[key(session)] += session.minutes
    return found


def _short(
    ordered: Sequence[JobToMake], fixed: Sequence[Session], made: Sequence[int]
) -> Iterator[Short]:
    needed = _still_to_plan(ordered, fixed)
    for job, minutes, steps in zip(ordered, needed, made, strict=True):
        if minutes > steps * STEP_MINUTES:
            yield Short(job=job.job, minutes=minutes - steps * STEP_MINUTES)


def _out_of_time(ordered: Sequence[JobToMake], fixed: Sequence[Session]) -> Iterator[Session]:
    by_name = {job.job: job for job in ordered}
    for session in fixed:
        job = by_name.get(session.job)
        if job and not job.allows(session.on):
            yield session


def _overfull(fixed: Sequence[Session], bench: Bench) -> Iterator[Overfull]:
    for on, minutes in sorted(_minutes_by(fixed, lambda session: session.on).items()):
        over = minutes - bench.free_minutes.get(on, minutes)
        if over > 0:
            yield Overfull(on=on, minutes=over)
