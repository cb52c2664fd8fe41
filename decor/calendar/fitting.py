"""Whether what is planned still goes with the event, whose day or hour may have moved since."""

from datetime import datetime, timedelta

from django.utils import timezone

from decor.calendar.moments import clock_text
from decor.calendar.visits import event_begins_at
from decor.display import date_text
from decor.models import MakingSession, Visit
from decor.models.visit import VisitKind

# common practice, no source: balloons hung earlier look tired by then
HUNG_BEFORE = timedelta(days=2)
READY_LATE = "The event begins {when}: it should hang {minutes} minutes before that."
HUNG_EARLY = "The event is only {when}: it would hang a long time before that."
STRUCK_EARLY = "The event begins {when}: it would be taken down before that."
MADE_LATE = "The event is {when}: this comes too late for it."


def visit_does_not_fit(visit: Visit, *, ready_before_minutes: int) -> str:
    """In words, or nothing where it goes with the event or the event has no hour yet."""
    begins = event_begins_at(visit.job)
    if begins is None or visit.called_off_at or visit.done_at:
        return ""
    if visit.kind == VisitKind.STRIKE:
        return STRUCK_EARLY.format(when=_when(begins)) if visit.starts_at < begins else ""
    if visit.kind != VisitKind.INSTALL:
        return ""
    if visit.ends_at > begins - timedelta(minutes=ready_before_minutes):
        return READY_LATE.format(when=_when(begins), minutes=ready_before_minutes)
    return HUNG_EARLY.format(when=_when(begins)) if begins - visit.ends_at > HUNG_BEFORE else ""


def session_does_not_fit(session: MakingSession) -> str:
    event_on = session.job.event_on
    if event_on is None or session.called_off_at or session.done_at or session.on <= event_on:
        return ""
    return MADE_LATE.format(when=date_text(event_on))


def _when(moment: datetime) -> str:
    local = timezone.localtime(moment)
    return f"{date_text(local.date())} at {clock_text(local.time())}"
