"""The owner's first page: what to do in the next fortnight, in order."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby

from decor.models import Job
from decor.today.sources import TodayLine, lines_between

FORTNIGHT = timedelta(days=13)
WEEK = timedelta(days=6)


@dataclass(frozen=True)
class Day:
    on: date
    lines: tuple[TodayLine, ...]


@dataclass(frozen=True)
class Part:
    name: str
    days: tuple[Day, ...]


@dataclass(frozen=True, kw_only=True)
class TodayPage:
    """`has_begun`: there is a job, so that who has nothing to do is not taught how to begin."""

    today: date
    late: tuple[TodayLine, ...]
    now: tuple[TodayLine, ...]
    ahead: tuple[Part, ...]
    has_begun: bool

    @property
    def is_empty(self) -> bool:
        return not self.late and not self.now and not self.ahead


def today_page(*, today: date) -> TodayPage:
    lines = lines_between(today, today + FORTNIGHT)
    coming = [line for line in lines if not line.is_late]
    parts = (
        ("Within a week", [ln for ln in coming if today < ln.on <= today + WEEK]),
        ("The week after", [ln for ln in coming if ln.on > today + WEEK]),
    )
    return TodayPage(
        today=today,
        late=tuple(line for line in lines if line.is_late),
        now=tuple(line for line in coming if line.on <= today),
        ahead=tuple(Part(name, _by_day(of_part)) for name, of_part in parts if of_part),
        has_begun=bool(lines) or Job.objects.exists(),
    )


def _by_day(lines: Sequence[TodayLine]) -> tuple[Day, ...]:
    return tuple(Day(on, tuple(of_day)) for on, of_day in groupby(lines, key=lambda ln: ln.on))
