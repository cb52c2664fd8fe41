"""The days a calendar page shows: which, with what on them, and what clashes."""

from calendar import monthrange
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from django.utils.dateformat import format as date_format

from decor.business.service import the_business
from decor.calendar.capacity import DayHours, hours_by_day, problems_by_day, visits_between
from decor.calendar.fitting import session_does_not_fit, visit_does_not_fit
from decor.calendar.moments import local_day
from decor.calendar.sources import Event, events_between
from decor.calendar.words import over_text
from decor.models import MakingSession

DAY = timedelta(days=1)
WEEK = timedelta(days=7)
AGENDA = timedelta(days=28)
# What a database and a page can still say; a link beyond it is as good as none.
FIRST_YEAR, LAST_YEAR = 2000, 2100


@dataclass(frozen=True)
class Span:
    """From the first to the last day shown; `before` and `after` lie in the spans beside it."""

    heading: str
    first: date
    last: date
    before: date
    after: date
    month: int | None = None

    def holds(self, day: date) -> bool:
        return self.first <= day <= self.last


def month_of(day: date) -> Span:
    """In whole weeks, Monday first."""
    first = day.replace(day=1)
    last = day.replace(day=monthrange(day.year, day.month)[1])
    return Span(
        heading=date_format(day, "F Y"),
        first=first - DAY * first.weekday(),
        last=last + DAY * (6 - last.weekday()),
        before=first - DAY,
        after=last + DAY,
        month=day.month,
    )


def week_of(day: date) -> Span:
    first = day - DAY * day.weekday()
    last = first + 6 * DAY
    return Span(_from_to(first, last), first, last, first - WEEK, first + WEEK)


def agenda_from(day: date) -> Span:
    last = day + AGENDA - DAY
    return Span(_from_to(day, last), day, last, day - AGENDA, day + AGENDA)


def _from_to(first: date, last: date) -> str:
    begins = "j" if first.month == last.month else "j F"
    begins = begins if first.year == last.year else "j F Y"
    return f"{date_format(first, begins)} to {date_format(last, 'j F Y')}"


def day_asked(text: str, *, today: date) -> date:
    """What is no day is as good as none, so old and broken links still work."""
    try:
        day = date.fromisoformat(text)
    except ValueError:
        return today
    return day if FIRST_YEAR <= day.year < LAST_YEAR else today


@dataclass(frozen=True, kw_only=True)
class CalendarDay:
    on: date
    is_today: bool
    is_in_month: bool
    events: tuple[Event, ...]
    problems: tuple[str, ...]
    hours: DayHours

    @property
    def is_empty(self) -> bool:
        return not self.events and not self.problems


def days_of(span: Span, *, today: date, with_money: bool) -> list[CalendarDay]:
    """As many questions to the database for a full month as for an empty one."""
    events: dict[date, list[Event]] = {}
    for event in events_between(span.first, span.last):
        if not event.is_called_off and (with_money or not event.is_about_money):
            events.setdefault(event.on, []).append(event)
    hours = hours_by_day(span.first, span.last)
    problems = _problems(span)
    return [
        CalendarDay(
            on=on,
            is_today=on == today,
            is_in_month=span.month in (None, on.month),
            events=tuple(events.get(on, ())),
            problems=(*problems.get(on, ()), *over_text(hours[on])),
            hours=hours[on],
        )
        for on in hours
    ]


def _problems(span: Span) -> dict[date, tuple[str, ...]]:
    visits = visits_between(span.first - DAY, span.last)
    found = {on: list(said) for on, said in problems_by_day(visits).items()}
    minutes = the_business().ready_before_minutes
    for visit in visits:
        said = visit_does_not_fit(visit, ready_before_minutes=minutes)
        _add(found, local_day(visit.starts_at), visit.job.title, said)
    sessions = MakingSession.objects.filter(on__range=(span.first, span.last), called_off_at=None)
    for session in sessions.select_related("job"):
        _add(found, session.on, session.job.title, session_does_not_fit(session))
    return {on: tuple(said) for on, said in found.items()}


def _add(found: dict[date, list[str]], on: date, title: str, said: str) -> None:
    if said:
        found.setdefault(on, []).append(f"{title}: {said}")


def with_something(days: Iterable[CalendarDay]) -> list[CalendarDay]:
    return [day for day in days if not day.is_empty]
