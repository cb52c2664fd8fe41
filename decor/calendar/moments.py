"""Times as people type them, in the business's own zone, and as the clock really goes."""

import zoneinfo
from datetime import UTC, date, datetime, time, timedelta

from django.utils import timezone
from django.utils.dateformat import time_format

from decor.display import date_text

SKIPPED = "The clocks go forward on {day}: there is no {time} then. Choose a time before or after."
COMES_TWICE = "The clocks go back on {day}, so {time} comes twice. Say which of the two you mean."


class NoSuchTime(ValueError):
    """The message is for the owner to read."""


class TimeComesTwice(ValueError):
    """The message is for the owner to read."""


def moments_of(day: date, at: time, zone: zoneinfo.ZoneInfo) -> tuple[datetime, ...]:
    """In UTC: none in the hour that is skipped, two in the one that comes twice."""
    found = []
    for fold in (0, 1):
        local = datetime.combine(day, at, tzinfo=zone).replace(fold=fold)
        moment = local.astimezone(UTC)
        is_real = moment.astimezone(zone).replace(tzinfo=None) == local.replace(tzinfo=None)
        if is_real and moment not in found:
            found.append(moment)
    return tuple(found)


def moment_of(
    day: date, at: time, zone: zoneinfo.ZoneInfo, *, second_time: bool | None = None
) -> datetime:
    """The one moment meant, in UTC. `second_time` says which where the hour comes twice."""
    found = moments_of(day, at, zone)
    if not found:
        raise NoSuchTime(SKIPPED.format(day=date_text(day), time=clock_text(at)))
    if len(found) > 1 and second_time is None:
        raise TimeComesTwice(COMES_TWICE.format(day=date_text(day), time=clock_text(at)))
    return found[-1] if second_time else found[0]


def day_bounds(first: date, last: date, zone: zoneinfo.ZoneInfo) -> tuple[datetime, datetime]:
    """From midnight that begins the first day to midnight that ends the last: 23, 24 or 25 hours
    a day."""
    begins = datetime.combine(first, time.min, tzinfo=zone).astimezone(UTC)
    ends = datetime.combine(last + timedelta(days=1), time.min, tzinfo=zone).astimezone(UTC)
    return begins, ends


def local_day(moment: datetime) -> date:
    return timezone.localtime(moment).date()


def clock_text(at: time) -> str:
    """`9 a.m.`, `1:30 p.m.`, `noon`."""
    return time_format(at, "P")


def hours_between_text(starts_at: datetime, ends_at: datetime) -> str:
    """`9 a.m. to 11:30 a.m.`, with the day of the end where it is another."""
    starts, ends = timezone.localtime(starts_at), timezone.localtime(ends_at)
    until = clock_text(ends.time())
    if ends.date() != starts.date():
        until = f"{until} on {ends:%A}"
    return f"{clock_text(starts.time())} to {until}"
