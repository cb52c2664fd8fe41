"""What a new plan changes of the one before, job by job."""

from collections.abc import Iterable
from dataclasses import dataclass

from .making import MakingPlan
from .work import Session


@dataclass(frozen=True, kw_only=True)
class JobChange:
    """`kept` stay as they were to the minute; `dropped` give way to `added`. `short_minutes` of it
    no longer find a place."""

    job: str
    kept: tuple[Session, ...]
    dropped: tuple[Session, ...]
    added: tuple[Session, ...]
    short_minutes: int

    @property
    def has_moved(self) -> bool:
        return bool(self.dropped or self.added)

    @property
    def gave_way(self) -> bool:
        return self.short_minutes > 0


def plan_changes(before: Iterable[Session], after: MakingPlan) -> tuple[JobChange, ...]:
    """Of every job in either, in the order of its first session."""
    old, new = tuple(before), after.sessions
    short = {each.job: each.minutes for each in after.short}
    by_day = sorted([*old, *new], key=lambda session: session.on)
    names = dict.fromkeys([*(session.job for session in by_day), *short])
    return tuple(
        _change(
            name,
            [session for session in old if session.job == name],
            [session for session in new if session.job == name],
            short.get(name, 0),
        )
        for name in names
    )


def _change(job: str, old: list[Session], new: list[Session], short_minutes: int) -> JobChange:
    was, now = ({(s.on, s.minutes) for s in each} for each in (old, new))
    return JobChange(
        job=job,
        kept=tuple(s for s in new if (s.on, s.minutes) in was),
        dropped=tuple(s for s in old if (s.on, s.minutes) not in now),
        added=tuple(s for s in new if (s.on, s.minutes) not in was),
        short_minutes=short_minutes,
    )
