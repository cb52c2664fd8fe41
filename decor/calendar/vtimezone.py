"""A zone as calendars elsewhere read it: RFC 5545, section 3.6.5.

Made here, as the icalendar package (7.3) gives the onset of daylight saving an hour late: it is to
be told in the clock that ends with it (`TZOFFSETFROM`), so 2:00 and not 3:00.
"""

import zoneinfo
from datetime import UTC, date, datetime, time, timedelta

from icalendar import Timezone, TimezoneDaylight, TimezoneStandard

# Two changes of the clocks are never nearer to each other than this.
STEP = timedelta(days=7)
ONE_SECOND = timedelta(seconds=1)
Onset = tuple[datetime, timedelta]


def vtimezone(zone: zoneinfo.ZoneInfo, *, first: date, last: date) -> Timezone:
    """Right for times between these days. One observance for each change, and one to begin with."""
    begins = datetime.combine(first, time.min, tzinfo=UTC) - STEP
    ends = datetime.combine(last, time.min, tzinfo=UTC) + STEP
    said = Timezone()
    said.add("tzid", zone.key)
    said.add_component(_observance(zone, begins, _offset(zone, begins)))
    for change in _changes(zone, begins, ends):
        said.add_component(_observance(zone, change, _offset(zone, change - ONE_SECOND)))
    return said


def _observance(
    zone: zoneinfo.ZoneInfo, since: datetime, before: timedelta
) -> TimezoneStandard | TimezoneDaylight:
    local = since.astimezone(zone)
    observance = TimezoneDaylight() if local.dst() else TimezoneStandard()
    observance.add("dtstart", (since + before).replace(tzinfo=None))
    observance.add("tzoffsetfrom", before)
    observance.add("tzoffsetto", local.utcoffset())
    observance.add("tzname", local.tzname())
    return observance


def _changes(zone: zoneinfo.ZoneInfo, begins: datetime, ends: datetime) -> list[datetime]:
    found, at = [], begins
    while at < ends:
        if _offset(zone, at) != _offset(zone, at + STEP):
            found.append(_first_after(zone, at, at + STEP))
        at += STEP
    return found


def _first_after(zone: zoneinfo.ZoneInfo, before: datetime, after: datetime) -> datetime:
    """The second in which the new offset begins."""
    while after - before > ONE_SECOND:
        middle = before + (after - before) // 2
        middle = middle.replace(microsecond=0)
        if _offset(zone, middle) == _offset(zone, before):
            before = middle
        else:
            after = middle
    return after


def _offset(zone: zoneinfo.ZoneInfo, at: datetime) -> timedelta:
    return at.astimezone(zone).utcoffset() or timedelta()
