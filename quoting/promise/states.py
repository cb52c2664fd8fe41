"""What a client can do with an edition now, and why not."""

from datetime import date, datetime, timedelta
from enum import StrEnum

from django.utils import timezone

from decor.jobs.stages import ENDED_EARLY
from decor.models import Business, Job
from decor.models.job import Stage
from quoting.models import ClientAnswer, ClientLink, Edition
from quoting.models.client_page import AnswerKind, Outcome

PROMISED_STAGES = (Stage.PROMISED, Stage.MADE, Stage.UP, Stage.DONE)
DUES_SOURCE = "{quote}, edition {number}"


class PageState(StrEnum):
    OPEN = "open"
    ACCEPTED = "accepted"
    DECLINED = "declined"
    CALLED_OFF = "called off"
    REPLACED = "replaced"
    EXPIRED = "expired"
    OTHER_ACCEPTED = "another quote accepted"
    CLOSED = "closed"
    TIME_TAKEN = "time taken"
    REVOKED = "revoked"
    ENDED = "ended"


def edition_state(edition: Edition, *, today: date) -> PageState:
    """Of the latest edition of a quote; whether its time is still free is not asked here."""
    job = edition.quote.job
    answer = edition.answers.first()
    if answer and answer.kind == AnswerKind.ACCEPTED:
        return PageState.CALLED_OFF if job.stage == Stage.CALLED_OFF else PageState.ACCEPTED
    if answer:
        return PageState.DECLINED
    if _has_ended(job, today):
        return PageState.CLOSED
    if accepted_elsewhere(edition):
        return PageState.OTHER_ACCEPTED
    return PageState.EXPIRED if edition.expires_on < today else PageState.OPEN


def _has_ended(job: Job, today: date) -> bool:
    is_over = job.is_archived or job.stage in (*ENDED_EARLY, Stage.UP, Stage.DONE)
    return is_over or (job.event_on is not None and job.event_on < today)


def accepted_elsewhere(edition: Edition) -> ClientAnswer | None:
    """What the client accepted of another quote for the same job."""
    answers = ClientAnswer.objects.filter(
        edition__quote__job=edition.quote.job_id, kind=AnswerKind.ACCEPTED
    )
    others = answers.exclude(edition__quote=edition.quote_id)
    return others.select_related("edition__quote").order_by("-at").first()


def link_state(link: ClientLink, *, business: Business, now: datetime) -> PageState:
    """Whether it still opens anything."""
    if link.revoked_at:
        return PageState.REVOKED
    event_on = link.quote.job.event_on
    if event_on is None:
        return PageState.OPEN
    last = event_on + timedelta(days=business.client_page_days)
    return PageState.ENDED if timezone.localdate(now) > last else PageState.OPEN


def is_promised(answer: ClientAnswer) -> bool:
    """At once, or when the owner confirmed it later; until the promise is taken back."""
    job = answer.edition.quote.job
    if job.stage not in PROMISED_STAGES:
        return False
    if answer.outcome in (Outcome.HELD, Outcome.TO_BUY):
        return True
    moved = job.stage_moves.filter(to_stage=Stage.PROMISED, moved_at__gte=answer.at)
    dues = job.dues.filter(source=dues_source(answer.edition), set_at__gte=answer.at)
    return moved.exists() or dues.exists()


def dues_source(edition: Edition) -> str:
    """By which a schedule of payments tells what it was agreed with."""
    return DUES_SOURCE.format(quote=edition.quote.number, number=edition.number)
