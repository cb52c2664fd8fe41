"""The calendar in the words of RFC 5545: the feed a phone follows, and one visit for the client."""

import zoneinfo
from collections.abc import Iterable
from datetime import UTC, date, datetime, timedelta

from django.conf import settings
from django.utils import timezone
from icalendar import Calendar, vCalAddress
from icalendar import Event as VEvent

from decor.business.service import the_business
from decor.calendar.capacity import window_text
from decor.calendar.ours import visit_event
from decor.calendar.sources import Event
from decor.calendar.vtimezone import vtimezone
from decor.models import Business, Visit
from decor.models.visit import VisitKind

PRODUCT = "-//Garlandwright//Calendar//EN"
ASK_AGAIN = timedelta(hours=1)
DAY = timedelta(days=1)
FOR_THE_CLIENT = {
    VisitKind.INSTALL: "{business}: we hang your garland",
    VisitKind.REVISIT: "{business}: we look after your garland",
    VisitKind.STRIKE: "{business}: we take your garland down",
}
EXPECT_US = "Expect us {window}"
RING_US = "Questions: {phone}"


def feed_ics(events: Iterable[Event], *, first: date, last: date, for_owner: bool) -> bytes:
    """Every event between two days. For a helper without money, and without a client's phone."""
    shown = [event for event in events if for_owner or not event.is_about_money]
    business = the_business()
    calendar = _calendar(shown, first=first, last=last)
    calendar.add("x-wr-calname", business.name)
    calendar.add("x-wr-timezone", _zone().key)
    # RFC 7986, section 5.7; the other is what older calendars read.
    calendar.add("refresh-interval", ASK_AGAIN, parameters={"VALUE": "DURATION"})
    calendar.add("x-published-ttl", "PT1H")
    for event in shown:
        calendar.add_component(_for_the_crew(event, for_owner=for_owner))
    return calendar.to_ical()


def event_ics(visit: Visit, *, now: datetime) -> bytes:
    """One visit for its client (RFC 5546: PUBLISH, and CANCEL once it is called off). It holds
    nothing of ours: no note, no money, no names of the crew."""
    event, business = visit_event(visit), the_business()
    on = event.on
    calendar = _calendar([event], first=on, last=on)
    calendar.add("method", "CANCEL" if event.is_called_off else "PUBLISH")
    said = _vevent(event, stamp=now)
    said.add("summary", FOR_THE_CLIENT[visit.kind].format(business=business.name))
    said.add("description", _what_to_expect(visit, business))
    if business.email:
        said.add("organizer", _organizer(business))
    calendar.add_component(said)
    return calendar.to_ical()


def _calendar(events: Iterable[Event], *, first: date, last: date) -> Calendar:
    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    if any(not event.is_all_day and not _needs_utc(event) for event in events):
        calendar.add_component(vtimezone(_zone(), first=first, last=last))
    return calendar


def _for_the_crew(event: Event, *, for_owner: bool) -> VEvent:
    """Without a METHOD the stamp is the last change (RFC 5545, section 3.8.7.2)."""
    said = _vevent(event, stamp=event.changed_at)
    said.add("summary", f"{event.kind.value}: {event.title}")
    said.add("description", "\n".join(_facts(event, for_owner=for_owner)))
    said.add("url", settings.SITE_URL + event.url)
    said.add("categories", [event.kind.value])
    return said


def _vevent(event: Event, *, stamp: datetime) -> VEvent:
    said = VEvent()
    said.add("uid", event.uid)
    said.add("dtstamp", stamp.astimezone(UTC))
    said.add("last-modified", event.changed_at.astimezone(UTC))
    said.add("sequence", event.sequence)
    said.add("status", "CANCELLED" if event.is_called_off else "CONFIRMED")
    said.add("transp", "TRANSPARENT" if event.is_all_day else "OPAQUE")
    said.add("dtstart", _when(event, event.starts))
    said.add("dtend", event.ends + DAY if event.is_all_day else _when(event, event.ends))
    if event.job.site:
        said.add("location", _place(event))
    return said


def _when(event: Event, moment: date | datetime) -> date | datetime:
    if event.is_all_day:
        return moment
    return moment.astimezone(UTC if _needs_utc(event) else _zone())


def _needs_utc(event: Event) -> bool:
    """A local time that comes twice means the first one (RFC 5545, section 3.3.5), so the second
    can be told in UTC only."""
    return any(moment.astimezone(_zone()).fold for moment in (event.starts, event.ends))


def _facts(event: Event, *, for_owner: bool) -> Iterable[str]:
    if event.note:
        yield event.note
    if for_owner:
        client = event.job.client
        yield f"{client.name}, {client.phone}" if client.phone else client.name


def _place(event: Event) -> str:
    site = event.job.site
    return ", ".join([site.name, *site.address.splitlines()])


def _what_to_expect(visit: Visit, business: Business) -> str:
    window = window_text(visit.starts_at, business.arrival_window_minutes)
    said = [EXPECT_US.format(window=window)]
    said += [RING_US.format(phone=business.phone)] if business.phone else []
    return "\n".join(said)


def _organizer(business: Business) -> vCalAddress:
    organizer = vCalAddress(f"mailto:{business.email}")
    organizer.params["CN"] = business.name
    return organizer


def _zone() -> zoneinfo.ZoneInfo:
    return timezone.get_current_timezone()
