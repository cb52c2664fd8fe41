"""What there is to do in the next fortnight, as far as it is work for hands and not for money."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby

from django.urls import Resolver404, resolve

from decor.crew.access import HELPER_MAY
from decor.today.sources import Deed, TodayLine, lines_between

DAYS_AHEAD = 14
WORK = frozenset({Deed.MAKE, Deed.INSTALL, Deed.REVISIT, Deed.STRIKE})


@dataclass(frozen=True, kw_only=True)
class WorkLine:
    """`url` is empty where a helper may not go."""

    line: TodayLine
    url: str


@dataclass(frozen=True)
class WorkDay:
    on: date
    lines: tuple[WorkLine, ...]


def work_ahead(*, today: date) -> tuple[WorkDay, ...]:
    by_day = groupby(_work_lines(today), key=lambda work: work.line.on)
    return tuple(WorkDay(on, tuple(lines)) for on, lines in by_day)


def _work_lines(today: date) -> Iterator[WorkLine]:
    for line in lines_between(today, today + timedelta(days=DAYS_AHEAD)):
        if line.kind in WORK and not line.is_about_money:
            yield WorkLine(line=line, url=line.url if is_open_to_helpers(line.url) else "")


def is_open_to_helpers(url: str) -> bool:
    try:
        return resolve(url.partition("?")[0].partition("#")[0]).view_name in HELPER_MAY
    except Resolver404:
        return False
