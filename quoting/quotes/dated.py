"""What quotes and promised jobs have on the calendar."""

from collections.abc import Iterator
from datetime import date

from django.db.models import Exists, Max, OuterRef
from django.urls import reverse
from django.utils import timezone

from decor.calendar.ours import uid_of
from decor.calendar.sources import Event, Kind, register
from decor.models import Job, MakingSession
from decor.models.job import Stage
from inventory.holds.days import MADE_BEFORE, making_on
from quoting.models import Edition
from quoting.models.quote import QuoteStage

WAITING = (QuoteStage.SENT, QuoteStage.CHANGED)
NOT_DECIDED = (Stage.ASKED, Stage.QUOTED)


def quote_end_events(first: date, last: date) -> Iterator[Event]:
    """The last days of quotes that wait for an answer: each by its newest edition."""
    newer = Edition.objects.filter(quote=OuterRef("quote"), number__gt=OuterRef("number"))
    editions = Edition.objects.filter(
        ~Exists(newer),
        expires_on__range=(first, last),
        quote__stage__in=WAITING,
        quote__job__stage__in=NOT_DECIDED,
        quote__job__archived_at=None,
    )
    related = ("quote__job__client", "quote__job__site")
    for edition in editions.select_related(*related).defer("pdf", "inputs", "result", "changes"):
        quote = edition.quote
        yield Event(
            uid=uid_of("quote", quote.pk),
            kind=Kind.QUOTE_ENDS,
            title=f"{quote.number}, {quote.job.title}",
            starts=edition.expires_on,
            ends=edition.expires_on,
            job=quote.job,
            url=reverse("quote_detail", args=[quote.pk]),
            note=f"{quote.job.client.name} has not answered yet",
            sequence=edition.number - 1,
            changed_at=edition.sent_at,
            is_about_money=True,
        )


def making_day_events(first: date, last: date) -> Iterator[Event]:
    """When promised jobs are made, as long as nobody has planned the hours for it."""
    planned = MakingSession.objects.filter(job=OuterRef("pk"), called_off_at=None)
    jobs = Job.objects.filter(
        ~Exists(planned),
        stage=Stage.PROMISED,
        event_on__range=(first, last + MADE_BEFORE),
        archived_at=None,
    )
    moved = jobs.annotate(last_moved_at=Max("stage_moves__moved_at"))
    for job in moved.select_related("client", "site"):
        on = making_on(job.event_on, today=min(job.event_on, timezone.localdate()))
        if first <= on <= last:
            yield Event(
                uid=uid_of("making", f"{job.pk}-{on:%Y%m%d}"),
                kind=Kind.MAKING,
                title=job.title,
                starts=on,
                ends=on,
                job=job,
                url=reverse("making_sheet", args=[job.pk]),
                note="No hours are planned for it yet",
                changed_at=job.last_moved_at or job.created_at,
            )


def register_dated() -> None:
    register(quote_end_events)
    register(making_day_events)
