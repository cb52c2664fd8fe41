"""RFC 5545 (Desruisseaux, 2009), and what a second library makes of our calendar: vobject, which
shares no code with the one that writes it."""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
import vobject
from django.utils import timezone

from decor.calendar.ics import feed_ics
from decor.calendar.moments import moments_of
from decor.calendar.sources import Event, Kind
from decor.calendar.vtimezone import vtimezone
from tests.factories import BusinessFactory, JobFactory

pytestmark = pytest.mark.django_db
STAMP = datetime(2026, 6, 13, 15, 0, tzinfo=UTC)
FIRST, LAST = date(2026, 4, 14), date(2027, 7, 18)
NEW_YORK = ZoneInfo("America/New_York")
# Europe's change is at 1:00 UTC everywhere, Lord Howe's is of half an hour, Phoenix has none.
ZONES = [
    "America/New_York",
    "Europe/Berlin",
    "Australia/Lord_Howe",
    "Pacific/Auckland",
    "America/Phoenix",
    "Asia/Kathmandu",
]


@pytest.fixture(autouse=True)
def at_larkspur_lane():
    BusinessFactory()
    with timezone.override(NEW_YORK):
        yield


def event(**change: object) -> Event:
    given: dict[str, object] = {
        "uid": "visit-1@larkspurlane.example",
        "kind": Kind.INSTALL,
        "title": "Reading-week arch",
        "starts": datetime(2026, 6, 20, 13, 0, tzinfo=UTC),
        "ends": datetime(2026, 6, 20, 15, 0, tzinfo=UTC),
        "job": JobFactory(),
        "url": "/visits/1/sheet/",
        "changed_at": STAMP,
    }
    return Event(**{**given, **change})


def written(*events: Event, for_owner: bool = True) -> bytes:
    return feed_ics(events, first=FIRST, last=LAST, for_owner=for_owner)


def read(feed: bytes) -> list[vobject.base.Component]:
    calendar = vobject.readOne(feed.decode())
    return list(calendar.contents.get("vevent", []))


def test_lines_are_folded_by_octets_and_never_inside_a_character():
    """Section 3.1: at most 75 octets besides the line break, CRLF, then one space."""
    title = "Ballons für die Müllerstraße 🎈 " * 12
    feed = written(event(title=title))
    lines = feed.split(b"\r\n")
    assert b"\n" not in feed.replace(b"\r\n", b"")
    assert max(len(line) for line in lines) == 75
    for line in lines:
        line.decode()  # a line that ends inside a character would not be text
    assert b"".join(feed.split(b"\r\n ")).decode().count(title.strip()) == 1
    assert read(feed)[0].summary.value == f"Install: {title}"


def test_text_is_escaped_as_section_3_3_11_says():
    """Its own example: `Project XYZ Final Review\\nConference Room - 3B\\nCome Prepared.` A
    backslash, semicolon, comma and line break are escaped, a colon is not."""
    note = "Project XYZ Final Review\nConference Room - 3B\nCome Prepared."
    feed = written(event(note=note, title=r"a\b; c, d: e")).replace(b"\r\n ", b"").decode()
    assert r"Project XYZ Final Review\nConference Room - 3B\nCome Prepared." in feed
    assert r"SUMMARY:Install: a\\b\; c\, d: e" in feed


def test_words_cannot_add_lines_of_their_own():
    hostile = "Arch\r\nEND:VEVENT\r\nBEGIN:VALARM\r\nACTION:DISPLAY"
    feed = written(event(title=hostile, note=hostile))
    assert feed.count(b"\r\nEND:VEVENT") == 1
    assert b"\r\nBEGIN:VALARM" not in feed
    assert len(read(feed)) == 1


def test_a_date_ends_on_the_day_after_as_its_end_is_exclusive():
    """Section 3.6.1: for DTSTART of a DATE, DTEND is the first day that is no longer part."""
    day = date(2026, 6, 19)
    feed = written(event(kind=Kind.MAKING, starts=day, ends=day))
    assert b"DTSTART;VALUE=DATE:20260619\r\n" in feed
    assert b"DTEND;VALUE=DATE:20260620\r\n" in feed
    assert read(feed)[0].dtstart.value == day


def test_an_event_has_what_section_3_6_1_asks_and_what_is_off_says_so():
    feed = written(event(is_called_off=True, sequence=3))
    for line in (
        b"VERSION:2.0", b"PRODID:", b"UID:visit-1@larkspurlane.example", b"SEQUENCE:3",
        b"DTSTAMP:20260613T150000Z", b"LAST-MODIFIED:20260613T150000Z", b"STATUS:CANCELLED",
    ):  # fmt: skip
        assert b"\r\n" + line in feed
    assert b"METHOD" not in feed


@pytest.mark.parametrize("name", ZONES)
def test_another_library_reads_each_hour_around_a_change_of_the_clocks_as_zoneinfo_does(name):
    """Every half hour of the days on which clocks change between April 2026 and July 2027, and of
    two that are none. The second of two equal local times is told in UTC: the first is meant
    otherwise (section 3.3.5)."""
    zone = ZoneInfo(name)
    days = [date(2026, 7, 1), date(2027, 1, 10)]
    days += [d for d in all_days() if length_of(d, zone) != timedelta(hours=24)]
    with timezone.override(zone):
        expected = [
            at for day in days for half in range(48) for at in moments_of(day, clock(half), zone)
        ]
        job = JobFactory()
        feed = written(
            *(
                event(uid=f"v-{n}", job=job, starts=at, ends=at + timedelta(minutes=10))
                for n, at in enumerate(expected)
            )
        )
    assert [found.dtstart.value.astimezone(UTC) for found in read(feed)] == expected


def test_a_zone_s_changes_are_told_in_the_clock_that_ends():
    """Section 3.6.5: its New York example has DAYLIGHT from 02:00:00 with TZOFFSETFROM -0500 and
    STANDARD from 02:00:00 with TZOFFSETFROM -0400. Days: 8 March 2026 and 1 November 2026."""
    said = vtimezone(NEW_YORK, first=date(2026, 1, 1), last=date(2026, 12, 31)).to_ical().decode()
    daylight, standard = said.split("BEGIN:DAYLIGHT")[1], said.split("BEGIN:STANDARD")[-1]
    for part, lines in (
        (daylight, ("DTSTART:20260308T020000", "TZOFFSETFROM:-0500", "TZOFFSETTO:-0400")),
        (standard, ("DTSTART:20261101T020000", "TZOFFSETFROM:-0400", "TZOFFSETTO:-0500")),
    ):
        assert all(line in part for line in lines)


@pytest.mark.parametrize(
    ("day", "clock", "hours"),
    [
        (date(2026, 3, 8), "02:30", []),
        (date(2026, 11, 1), "01:30", [5, 6]),
        (date(2026, 6, 20), "01:30", [5]),
    ],
)
def test_a_typed_time_is_no_moment_one_or_two(day, clock, hours):
    """Daylight saving in the USA: second Sunday of March, first Sunday of November, at 2:00
    (Energy Policy Act of 2005, section 110)."""
    found = moments_of(day, datetime.strptime(clock, "%H:%M").time(), NEW_YORK)  # noqa: DTZ007
    assert [moment.hour for moment in found] == hours


def all_days() -> list[date]:
    return [FIRST + timedelta(days=n) for n in range((LAST - FIRST).days)]


def length_of(day: date, zone: ZoneInfo) -> timedelta:
    begins, ends = (
        datetime.combine(each, clock(0), tzinfo=zone).astimezone(UTC)
        for each in (day, day + timedelta(days=1))
    )
    return ends - begins


def clock(half_hours: int):
    return (datetime(2026, 1, 1, tzinfo=UTC) + timedelta(minutes=30 * half_hours)).time()
