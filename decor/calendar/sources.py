"""What is on the calendar, from every room that has days in it."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date, datetime
from enum import Enum

from django.utils import timezone

from decor.models import Job


class Kind(Enum):
    """The word that stands on each event."""

    MAKING = "Making"
    INSTALL = "Install"
    REVISIT = "Revisit"
    STRIKE = "Strike"
    EVENT = "Event"
    QUOTE_ENDS = "Quote ends"
    MONEY_DUE = "Money due"


@dataclass(frozen=True, kw_only=True)
class Event:
    """`starts` and `ends` are both days (the last one is part of it) or both aware times.

    `uid` never changes while the thing itself is the same one; `sequence` counts its changes.
    """

    uid: str
    kind: Kind
    title: str
    starts: date | datetime
    ends: date | datetime
    job: Job
    url: str
    note: str = ""
    is_called_off: bool = False
    is_done: bool = False
    sequence: int = 0
    changed_at: datetime
    is_about_money: bool = False

    @property
    def is_all_day(self) -> bool:
        return not isinstance(self.starts, datetime)

    @property
    def on(self) -> date:
        return self.starts if self.is_all_day else timezone.localtime(self.starts).date()


# From the first to the last of these days, both among them.
Source = Callable[[date, date], Iterable[Event]]
_sources: list[Source] = []


def register(source: Source) -> None:
    if source not in _sources:
        _sources.append(source)


def events_between(first: date, last: date) -> list[Event]:
    """By day; on a day what lasts all of it first, then by time."""
    events = [event for source in _sources for event in source(first, last)]
    return sorted(events, key=_in_order)


def _in_order(event: Event) -> tuple[date, bool, float, str]:
    clock = 0.0 if event.is_all_day else event.starts.timestamp()
    return (event.on, not event.is_all_day, clock, event.uid)
