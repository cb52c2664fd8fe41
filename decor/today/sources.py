"""What there is to do, from every room that knows of something: see each app's today_lines.py."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date
from enum import Enum

from decor.models import Job


class Deed(Enum):
    """The word that stands before a line. On one day they are done in this order."""

    CONFIRM = "Confirm"
    ANSWER = "Answer"
    DECIDE = "Decide"
    INSTALL = "Install"
    REVISIT = "Revisit"
    STRIKE = "Strike"
    MAKE = "Make"
    BUY = "Buy"
    SHELF = "Short"
    RECEIVE = "Receive"
    QUOTE = "Quote"
    LETTER = "Write"
    CHASE = "Chase"
    MONEY = "Money"


@dataclass(frozen=True, kw_only=True)
class TodayLine:
    """One thing to do by a day, and the place where it is done. `action` is the link's word."""

    on: date
    kind: Deed
    text: str
    url: str
    action: str = ""
    is_late: bool = False
    is_about_money: bool = False
    job: Job | None = None


# From and up to these days; whoever is late is told with the first of them.
Source = Callable[[date, date], Iterable[TodayLine]]
_sources: list[Source] = []
_IN_ORDER = {deed: at for at, deed in enumerate(Deed)}


def register(source: Source) -> None:
    if source not in _sources:
        _sources.append(source)


def lines_between(first: date, last: date) -> list[TodayLine]:
    lines = [line for source in _sources for line in source(first, last)]
    return sorted(lines, key=lambda line: (line.on, _IN_ORDER[line.kind]))
