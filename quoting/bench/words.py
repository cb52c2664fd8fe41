"""What a plan of the bench says to its owner."""

from collections.abc import Iterable, Iterator
from datetime import date
from itertools import islice

from decor.display import date_text, hours_text
from quoting.bench.asked import Asked
from quoting.estimator.planning import (
    JobChange,
    Kind,
    Relief,
    Session,
    Short,
    what_would_help,
)

MOST_HELPS = 5
MOVED = "{title}: moved from {old} to {new}."
LONGER = "{title}: {new}, instead of {minutes}."
ADDED = "{title}: planned for {new}."
DROPPED = "{title}: no longer on {old}."
REPLACED = "{title}: {new}, instead of {old}."
SHORT = "{title}: {minutes} of it do not fit before {day}."
MORE_HOURS = "{minutes} more on {day} would make room for {saves}."
LONGER_SESSIONS = "Staying {minutes} longer at each job would make room for {saves}."
OLDER_BALLOONS = (
    "{title} made up to {days} earlier would make room for {saves}; its balloons would be older."
)
ON_THE_DAY = "Making some of {title} on the day it hangs would make room for {saves}."


def changes_text(title: str, change: JobChange) -> str:
    old, new = change.dropped, change.added
    if not old:
        return ADDED.format(title=title, new=_sessions_text(new))
    if not new:
        return DROPPED.format(title=title, old=_and(day_text(s.on) for s in old))
    if len(old) == len(new) == 1 and old[0].on == new[0].on:
        minutes = hours_text(old[0].minutes / 60)
        return LONGER.format(title=title, new=_sessions_text(new), minutes=minutes)
    if len(old) == len(new) == 1 and old[0].minutes == new[0].minutes:
        return MOVED.format(title=title, old=day_text(old[0].on), new=_sessions_text(new))
    return REPLACED.format(title=title, new=_sessions_text(new), old=_sessions_text(old))


def short_text(asked: Asked, short: Short) -> str:
    install_on = next(job.install_on for job in asked.jobs if job.job == short.job)
    return SHORT.format(
        title=asked.by_name[short.job].title,
        minutes=hours_text(short.minutes / 60),
        day=date_text(install_on),
    )


def help_texts(asked: Asked) -> tuple[str, ...]:
    """Those that help most. Costs a second: only where something finds no place."""
    return tuple(islice(_relief_texts(asked), MOST_HELPS))


def _relief_texts(asked: Asked) -> Iterator[str]:
    for relief in what_would_help(asked.jobs, bench=asked.bench, fixed=asked.fixed):
        yield _relief_text(asked, relief)


def _relief_text(asked: Asked, relief: Relief) -> str:
    said = {
        "minutes": hours_text(relief.minutes / 60),
        "saves": hours_text(relief.saves_minutes / 60),
        "title": asked.by_name[relief.job].title if relief.job else "",
        "days": "a day" if relief.days == 1 else f"{relief.days} days",
        "day": day_text(relief.on) if relief.on else "",
    }
    return _RELIEFS[relief.kind].format(**said)


_RELIEFS = {
    Kind.MORE_HOURS: MORE_HOURS,
    Kind.LONGER_SESSIONS: LONGER_SESSIONS,
    Kind.OLDER_BALLOONS: OLDER_BALLOONS,
    Kind.ON_THE_DAY: ON_THE_DAY,
}


def _sessions_text(sessions: Iterable[Session]) -> str:
    return _and(f"{day_text(s.on)}, {hours_text(s.minutes / 60)}" for s in sessions)


def day_text(on: date) -> str:
    return f"{on:%A} {on.day} {on:%B}"


def _and(words: Iterable[str]) -> str:
    *most, last = words
    return f"{'; '.join(most)} and {last}" if most else last
