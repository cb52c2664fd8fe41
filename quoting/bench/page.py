"""The page of the bench: the days with what is made on them, what gave way, what would help."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from itertools import groupby

from decor.calendar.capacity import Minutes, hours_by_day
from decor.calendar.moments import local_day
from decor.display import date_text, hours_text
from decor.models import MakingSession
from decor.models.job import Stage
from quoting.bench.service import Planned, bench_look
from quoting.bench.words import day_text, help_texts

WEEKS = timedelta(weeks=3)
A_WEEK = timedelta(days=7)
OUT_OF_TIME = "{title} on {day}: too early for its balloons, or too late for its install."
OVERFULL = "{day}: {minutes} more is set by hand than there are hours for."
GAVE_WAY = "{title}: no longer on {day}, {minutes}."


@dataclass(frozen=True, kw_only=True)
class BenchSession:
    row: MakingSession
    hours: str


@dataclass(frozen=True, kw_only=True)
class BenchDay:
    on: date
    making: Minutes
    sessions: tuple[BenchSession, ...]


@dataclass(frozen=True, kw_only=True)
class BenchPage:
    """`is_stale`: a new plan would be another."""

    days: tuple[BenchDay, ...]
    short: tuple[str, ...]
    helps: tuple[str, ...]
    by_hand: tuple[str, ...]
    gave_way: tuple[str, ...]
    is_stale: bool

    @property
    def is_empty(self) -> bool:
        return not self.short and not any(day.sessions for day in self.days)


def bench_page(*, now: datetime) -> BenchPage:
    planned = bench_look(now=now)
    today = local_day(now)
    return BenchPage(
        days=_days(today, today + WEEKS),
        short=planned.short,
        helps=help_texts(planned.asked) if planned.short else (),
        by_hand=_by_hand(planned),
        gave_way=_gave_way(today, now),
        is_stale=bool(planned.moved),
    )


def _days(first: date, last: date) -> tuple[BenchDay, ...]:
    """The days of a week on which somebody works, and later ones that have something planned."""
    rows = MakingSession.objects.filter(on__range=(first, last), called_off_at=None)
    shown = rows.select_related("job__client").order_by("on", "job__event_on", "pk")
    sessions = {on: tuple(of_day) for on, of_day in groupby(shown, key=lambda row: row.on)}
    return tuple(
        BenchDay(
            on=on,
            making=hours.making,
            sessions=tuple(
                BenchSession(row=row, hours=hours_text(row.minutes / 60))
                for row in sessions.get(on, ())
            ),
        )
        for on, hours in hours_by_day(first, last).items()
        if on in sessions or (hours.making.given and on < first + A_WEEK)
    )


def _by_hand(planned: Planned) -> tuple[str, ...]:
    late = (
        OUT_OF_TIME.format(title=planned.asked.by_name[each.job].title, day=day_text(each.on))
        for each in planned.plan.out_of_time
    )
    full = (
        OVERFULL.format(day=date_text(each.on), minutes=hours_text(each.minutes / 60))
        for each in planned.plan.overfull
    )
    return (*late, *full)


def _gave_way(today: date, now: datetime) -> tuple[str, ...]:
    """What was planned and is not any more, of jobs that are still to be made."""
    dropped = MakingSession.objects.filter(
        called_off_at__gte=now - A_WEEK, on__gte=today, job__stage=Stage.PROMISED
    )
    return tuple(
        GAVE_WAY.format(
            title=row.job.title, day=day_text(row.on), minutes=hours_text(row.minutes / 60)
        )
        for row in dropped.select_related("job").order_by("-called_off_at", "on")
    )
