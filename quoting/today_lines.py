"""What quotes, making and visits have to be done."""

from collections.abc import Iterator
from datetime import date, timedelta

from django.db.models import Exists, OuterRef, Q, QuerySet
from django.urls import reverse
from django.utils import timezone

from decor.calendar.moments import day_bounds, hours_between_text, local_day
from decor.display import date_text, days_away_text, hours_text
from decor.models import Job, MakingSession, Visit
from decor.models.job import Stage
from decor.models.letter import LetterKind
from decor.models.visit import VisitKind
from decor.today.sources import Deed, TodayLine, register
from inventory.holds.days import MADE_BEFORE, making_on
from quoting.models import ClientAnswer, ClientQuestion, Edition
from quoting.models.client_page import AnswerKind, Outcome
from quoting.models.quote import QuoteStage

ONE_DAY = timedelta(days=1)
DEED_OF_VISIT = {
    VisitKind.INSTALL: Deed.INSTALL,
    VisitKind.REVISIT: Deed.REVISIT,
    VisitKind.STRIKE: Deed.STRIKE,
}
TO_HANG = (Stage.PROMISED, Stage.MADE)
WAITING = (QuoteStage.SENT, QuoteStage.CHANGED)
NOT_KEPT = (Outcome.TO_CONFIRM, Outcome.TIME_TAKEN)

VISIT_LATE = "{what} was planned for {day}: is it done?"
MAKE = "{title}: {hours} at the bench"
MAKE_LATE = "{title} was to be made on {day}"
NOT_PLANNED = "{title}: no install is planned yet"
GONE_BY = "{title} was on {day}: how did it go?"
ENDS = "{number} for {title} is good until this day"
ENDED = "{number} for {title} ended without an answer"
NOT_QUOTED = "{title}: asked {when}, no quote sent yet"
ACCEPTED = "{client} accepted {number}: look whether you can keep the day, and tell them"
DECLINED = "{client} declined {number}: offer something else, or let the job go"
ASKED = "{client} asks: {text}"
TEXT_SHOWN = 90


def visit_lines(first: date, last: date) -> Iterator[TodayLine]:
    """A job that is up hangs, whether or not anybody ticked its install off."""
    _, ends = day_bounds(first, last, timezone.get_current_timezone())
    visits = Visit.objects.filter(
        Q(job__stage__in=TO_HANG) | Q(job__stage=Stage.UP) & ~Q(kind=VisitKind.INSTALL),
        starts_at__lt=ends,
        called_off_at=None,
        done_at=None,
        job__archived_at=None,
    )
    for visit in visits.select_related("job__client", "job__site"):
        yield _visit_line(visit, first)


def _visit_line(visit: Visit, first: date) -> TodayLine:
    job, on = visit.job, local_day(visit.starts_at)
    what = f"{job.title} at {job.site.name}" if job.site else job.title
    times = hours_between_text(visit.starts_at, visit.ends_at)
    is_late = on < first
    return TodayLine(
        on=on,
        kind=DEED_OF_VISIT[VisitKind(visit.kind)],
        text=VISIT_LATE.format(what=what, day=date_text(on)) if is_late else f"{what}, {times}",
        url=reverse("visit_page", args=[visit.pk]),
        action="Open the sheet",
        is_late=is_late,
        job=job,
    )


def making_lines(first: date, last: date) -> Iterator[TodayLine]:
    """Hours that are planned; for who has none planned, the day it must be made on."""
    sessions = MakingSession.objects.filter(
        on__lte=last, called_off_at=None, done_at=None, job__stage=Stage.PROMISED
    )
    for session in sessions.filter(job__archived_at=None).select_related("job__client"):
        hours = hours_text(session.minutes / 60)
        yield _making_line(
            session.job, session.on, MAKE.format(title=session.job.title, hours=hours), first
        )
    planned = MakingSession.objects.filter(job=OuterRef("pk"), called_off_at=None)
    jobs = _jobs(TO_HANG).filter(
        ~Exists(planned),
        stage=Stage.PROMISED,
        event_on__gte=first,
        event_on__lte=last + MADE_BEFORE,
    )
    for job in jobs:
        on = making_on(job.event_on, today=first)
        if on <= last:
            yield _making_line(job, on, job.title, first)


def _making_line(job: Job, on: date, text: str, first: date) -> TodayLine:
    is_late = on < first
    return TodayLine(
        on=on,
        kind=Deed.MAKE,
        text=MAKE_LATE.format(title=job.title, day=date_text(on)) if is_late else text,
        url=reverse("making_sheet", args=[job.pk]),
        action="Making sheet",
        is_late=is_late,
        job=job,
    )


def unplanned_lines(first: date, last: date) -> Iterator[TodayLine]:
    """Promised, and nobody has planned to hang it; or its day went by and nothing was said."""
    planned = Visit.objects.filter(job=OuterRef("pk"), kind=VisitKind.INSTALL, called_off_at=None)
    for job in _jobs(TO_HANG).filter(~Exists(planned), event_on__lte=last):
        is_late = job.event_on < first
        said = GONE_BY if is_late else NOT_PLANNED
        yield TodayLine(
            on=job.event_on,
            kind=Deed.CONFIRM if is_late else Deed.INSTALL,
            text=said.format(title=job.title, day=date_text(job.event_on)),
            url=(
                reverse("job_detail", args=[job.pk])
                if is_late
                else reverse("visit_new", args=[job.pk, VisitKind.INSTALL.value])
            ),
            action="Open the job" if is_late else "Plan it",
            is_late=is_late,
            job=job,
        )


def quote_lines(first: date, last: date) -> Iterator[TodayLine]:
    """Quotes that wait for an answer, on the day they end: by the newest edition of each."""
    newer = Edition.objects.filter(quote=OuterRef("quote"), number__gt=OuterRef("number"))
    editions = Edition.objects.filter(
        ~Exists(newer),
        expires_on__lte=last,
        quote__stage__in=WAITING,
        quote__job__stage=Stage.QUOTED,
        quote__job__archived_at=None,
    )
    shown = editions.select_related("quote__job__client").only(
        "expires_on", "quote__number", "quote__job__title", "quote__job__client__name"
    )
    for edition in shown:
        quote, job = edition.quote, edition.quote.job
        is_late = edition.expires_on < first
        said = ENDED if is_late else ENDS
        yield TodayLine(
            on=edition.expires_on,
            kind=Deed.CHASE,
            text=said.format(number=quote.number, title=job.title),
            url=reverse("letter_new", args=[job.pk, LetterKind.QUOTE_REMINDER.value]),
            action="Remind them",
            is_late=is_late,
            is_about_money=True,
            job=job,
        )


def enquiry_lines(first: date, last: date) -> Iterator[TodayLine]:
    """Asked, and never sent a quote."""
    sent = Edition.objects.filter(quote__job=OuterRef("pk"))
    for job in _jobs((Stage.ASKED,)).filter(~Exists(sent)).order_by("created_at"):
        yield TodayLine(
            on=first,
            kind=Deed.QUOTE,
            text=NOT_QUOTED.format(
                title=job.title, when=days_away_text(local_day(job.created_at), first)
            ),
            url=reverse("job_detail", args=[job.pk]),
            action="Open the job",
            is_about_money=True,
            job=job,
        )


def answer_lines(first: date, last: date) -> Iterator[TodayLine]:
    """Accepted, and not promised since: the client was told “within a day”. Or declined, and the
    job still stands open. What was sent anew since waits for its own answer."""
    newer = Edition.objects.filter(
        quote=OuterRef("edition__quote"), number__gt=OuterRef("edition__number")
    )
    answers = ClientAnswer.objects.filter(
        ~Exists(newer),
        Q(kind=AnswerKind.DECLINED) | Q(kind=AnswerKind.ACCEPTED, outcome__in=NOT_KEPT),
        edition__quote__job__stage__in=(Stage.ASKED, Stage.QUOTED),
        edition__quote__job__archived_at=None,
    )
    shown = answers.select_related("edition__quote__job__client").defer(
        "edition__pdf", "edition__inputs", "edition__result"
    )
    for answer in shown:
        quote, on = answer.edition.quote, local_day(answer.at)
        is_yes = answer.kind == AnswerKind.ACCEPTED
        said = ACCEPTED if is_yes else DECLINED
        yield TodayLine(
            on=min(on + ONE_DAY, last),
            kind=Deed.CONFIRM if is_yes else Deed.DECIDE,
            text=said.format(client=quote.job.client.name, number=quote.number),
            url=(
                reverse("quote_detail", args=[quote.pk])
                if is_yes
                else reverse("job_detail", args=[quote.job.pk])
            ),
            action="Open the quote" if is_yes else "Open the job",
            is_late=on + ONE_DAY < first,
            is_about_money=True,
            job=quote.job,
        )


def question_lines(first: date, last: date) -> Iterator[TodayLine]:
    asked = ClientQuestion.objects.filter(answered_at=None, quote__job__archived_at=None)
    for question in asked.select_related("quote__job__client"):
        job, on = question.quote.job, local_day(question.asked_at)
        yield TodayLine(
            on=on,
            kind=Deed.ANSWER,
            text=ASKED.format(client=job.client.name, text=_shortened(question.text)),
            url=f"{reverse('job_detail', args=[job.pk])}#questions",
            action="Answer",
            is_late=on < first - ONE_DAY,
            is_about_money=True,
            job=job,
        )


def _jobs(stages: tuple[Stage, ...]) -> QuerySet[Job]:
    return Job.objects.filter(stage__in=stages, archived_at=None).select_related("client")


def _shortened(text: str) -> str:
    line = " ".join(text.split())
    return line if len(line) <= TEXT_SHOWN else f"{line[:TEXT_SHOWN].rstrip()}…"


def register_quote_lines() -> None:
    for source in (
        visit_lines,
        making_lines,
        unplanned_lines,
        quote_lines,
        enquiry_lines,
        answer_lines,
        question_lines,
    ):
        register(source)
