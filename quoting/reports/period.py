"""The days that a report tells of, month by month, in the business's time zone."""

import calendar
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from django.db import models
from django.utils import timezone


class Span(models.TextChoices):
    TWELVE = "twelve", "Last 12 months"
    THIS_YEAR = "this_year", "This year"
    LAST_YEAR = "last_year", "Last year"
    OWN = "own", "From … to …"


@dataclass(frozen=True)
class Month:
    """A month, or as much of it as lies in a period."""

    first: date
    last: date

    @property
    def name(self) -> str:
        said = f"{self.first:%b} {self.first.year}"
        if self.first.day == 1 and self.last == month_end(self.first):
            return said
        days = {self.first.day, self.last.day}
        return f"{'–'.join(str(day) for day in sorted(days))} {said}"


@dataclass(frozen=True)
class Period:
    """Both days belong to it."""

    first: date
    last: date

    @property
    def name(self) -> str:
        return f"{_day(self.first)} to {_day(self.last)}"

    @property
    def before(self) -> date:
        return self.first - timedelta(days=1)

    @property
    def months(self) -> tuple[Month, ...]:
        return tuple(self._months())

    def month_at(self, day: date) -> int:
        """Which of `months` a day of the period lies in, from 0."""
        return _count(day) - _count(self.first)

    @property
    def moments(self) -> tuple[datetime, datetime]:
        """From the first midnight, up to and without the last; days of 23 and 25 hours too."""
        zone = timezone.get_current_timezone()
        days = (self.first, self.last + timedelta(days=1))
        start, end = (datetime.combine(day, time.min, tzinfo=zone) for day in days)
        return start, end

    def _months(self) -> Iterator[Month]:
        first = self.first
        while first <= self.last:
            yield Month(first, min(month_end(first), self.last))
            first = month_end(first) + timedelta(days=1)


def period_of(span: Span, *, today: date) -> Period:
    """What has a name; the days to come are in none of them."""
    match span:
        case Span.THIS_YEAR:
            return Period(date(today.year, 1, 1), today)
        case Span.LAST_YEAR:
            return Period(date(today.year - 1, 1, 1), date(today.year - 1, 12, 31))
    earlier = _count(today) - 11
    return Period(date(earlier // 12, earlier % 12 + 1, 1), today)


def month_end(day: date) -> date:
    return day.replace(day=calendar.monthrange(day.year, day.month)[1])


def _count(day: date) -> int:
    """Months since the beginning of our years."""
    return 12 * day.year + day.month - 1


def _day(day: date) -> str:
    return f"{day.day} {day:%B} {day.year}"
