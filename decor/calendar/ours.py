"""What this app has on the calendar: visits, hours at the bench, events without a visit, dues."""

from collections.abc import Iterator
from datetime import date
from urllib.parse import urlsplit

from django.conf import settings
from django.db.models import Exists, Max, OuterRef
from django.urls import reverse
from django.utils import timezone

from decor.business.service import the_business
from decor.calendar.moments import day_bounds
from decor.calendar.sources import Event, Kind
from decor.display import hours_text, money_text
from decor.models import Job, MakingSession, Visit
from decor.models.job import Stage
from decor.models.visit import VisitKind
from decor.payments.account import accounts_open

KIND_OF_VISIT = {
    VisitKind.INSTALL: Kind.INSTALL,
    VisitKind.REVISIT: Kind.REVISIT,
    VisitKind.STRIKE: Kind.STRIKE,
}
TAKEN = (Stage.PROMISED, Stage.MADE)


def uid_of(what: str, pk: int | str) -> str:
    """The same for as long as this installation keeps its address (RFC 5545, section 3.8.4.7)."""
    return f"{what}-{pk}@{urlsplit(settings.SITE_URL).hostname}"


def visit_events(first: date, last: date) -> Iterator[Event]:
    begins, ends = day_bounds(first, last, timezone.get_current_timezone())
    visits = Visit.objects.filter(starts_at__gte=begins, starts_at__lt=ends)
    for visit in visits.select_related("job__client", "job__site").prefetch_related("crew"):
        yield visit_event(visit)


def visit_event(visit: Visit) -> Event:
    return Event(
        uid=uid_of("visit", visit.pk),
        kind=KIND_OF_VISIT[visit.kind],
        title=visit.job.title,
        starts=visit.starts_at,
        ends=visit.ends_at,
        job=visit.job,
        url=reverse("visit_page", args=[visit.pk]),
        note=_who_goes(visit),
        is_called_off=visit.called_off_at is not None,
        is_done=visit.done_at is not None,
        sequence=visit.sequence,
        changed_at=visit.changed_at,
    )


def _who_goes(visit: Visit) -> str:
    names = ", ".join(member.name for member in visit.crew.all())
    return ". ".join(said for said in (names, visit.note) if said)


def session_events(first: date, last: date) -> Iterator[Event]:
    sessions = MakingSession.objects.filter(on__range=(first, last))
    for session in sessions.select_related("job__client", "job__site"):
        yield Event(
            uid=uid_of("session", session.pk),
            kind=Kind.MAKING,
            title=session.job.title,
            starts=session.on,
            ends=session.on,
            job=session.job,
            url=reverse("making_sheet", args=[session.job_id]),
            note=hours_text(session.minutes / 60),
            is_called_off=session.called_off_at is not None,
            is_done=session.done_at is not None,
            sequence=session.sequence,
            changed_at=session.changed_at,
        )


def event_events(first: date, last: date) -> Iterator[Event]:
    """The days of promised jobs that nobody has planned an install for."""
    planned = Visit.objects.filter(
        job=OuterRef("pk"), kind=VisitKind.INSTALL, called_off_at=None, done_at=None
    )
    jobs = Job.objects.filter(
        ~Exists(planned), event_on__range=(first, last), stage__in=TAKEN, archived_at=None
    )
    moved = jobs.annotate(last_moved_at=Max("stage_moves__moved_at"))
    for job in moved.select_related("client", "site"):
        yield Event(
            uid=uid_of("event", f"{job.pk}-{job.event_on:%Y%m%d}"),
            kind=Kind.EVENT,
            title=job.title,
            starts=job.event_on,
            ends=job.event_on,
            job=job,
            url=_job_url(job, "visits"),
            note="No install is planned yet",
            changed_at=job.last_moved_at or job.created_at,
        )


def due_events(first: date, last: date) -> Iterator[Event]:
    """What is still to be paid; of what is paid the calendar is silent."""
    currency = the_business().currency
    for account in accounts_open(today=timezone.localdate()):
        for line in account.dues:
            if not line.is_paid and first <= line.due.due_on <= last:
                yield Event(
                    uid=uid_of("due", line.due.pk),
                    kind=Kind.MONEY_DUE,
                    title=f"{line.name}, {account.job.title}",
                    starts=line.due.due_on,
                    ends=line.due.due_on,
                    job=account.job,
                    url=_job_url(account.job, "money"),
                    note=f"{money_text(line.open_cents, currency)} from {account.job.client.name}",
                    changed_at=line.due.set_at,
                    is_about_money=True,
                )


def _job_url(job: Job, section: str) -> str:
    return f"{reverse('job_detail', args=[job.pk])}#{section}"
