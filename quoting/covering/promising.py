"""A quote's job is promised: what it takes of the shelf is held for it, in the same breath."""

from datetime import date, datetime
from typing import Any

from django.contrib.auth.models import User
from django.db import transaction
from django.utils import timezone

from decor.jobs.stages import MoveRefused, job_move
from decor.models import Job, StageMove
from decor.models.job import Stage
from inventory.holds.needs import Wanted, needs_acknowledge
from inventory.holds.service import ShelfShort, hold_soft, holds_open
from quoting.covering.answer import NO_DAY, Answer, can_take
from quoting.models import Quote
from quoting.models.quote import QuoteStage
from quoting.quotes.pricing import quote_priced

NOT_DESCRIBED = "“{piece}” is not described yet, so nobody can say what it takes of the shelf."
SHORT = "{short} Nothing was promised: see “Can I take this job?” on quote {quote}."
WHICH_QUOTE = "This job has several quotes. Promise it from the one your client said yes to."
PROMISED_FROM = "Promised from quote {quote}"

TAKEN_UP_BY_A_PROMISE = frozenset({Stage.QUOTED, Stage.CALLED_OFF})


@transaction.atomic
def quote_promise(*, quote: Quote, by: User | None, now: datetime) -> None:
    """Holds what the quote takes and moves its job to promised. Raises MoveRefused, and then
    neither has happened."""
    Job.objects.select_for_update(no_key=True).get(pk=quote.job_id)
    quote_hold(quote=quote, now=now)
    why = PROMISED_FROM.format(quote=quote.number)
    job_move(job=quote.job, to=Stage.PROMISED, by=by, reason=why, now=now)


@transaction.atomic
def quote_hold(*, quote: Quote, now: datetime) -> None:
    """The job's holds become what this quote takes; raises MoveRefused where that cannot be."""
    today = timezone.localdate(now)
    answer = can_take(quote_priced(quote, today=today), today=today)
    if answer.problem == NO_DAY:
        raise MoveRefused(NO_DAY)
    if answer.problem:
        return
    for piece in answer.demand.unknown_pieces:
        raise MoveRefused(NOT_DESCRIBED.format(piece=piece.title))
    try:
        hold_soft(
            job=quote.job,
            demand=answer.demand.quantities,
            needed_on=answer.needed_on,
            today=today,
            now=now,
            source=quote.number,
            may_be_short=[line.item.pk for line in answer.short if line.is_settled],
        )
    except ShelfShort as short:
        raise MoveRefused(SHORT.format(short=short, quote=quote.number)) from short


def is_held_as_quoted(answer: Answer) -> bool:
    """A job's day may move and its garland grow after the promise: its holds do not by themselves,
    as more may not be free."""
    if answer.problem:
        return True
    holds = holds_open(answer.job)
    held = {hold.item_id: hold.quantity for hold in holds}
    days = {hold.needed_on for hold in holds}
    return held == dict(answer.demand.quantities) and days <= {answer.needed_on}


def hold_with_the_move(*, move: StageMove, **kwargs: Any) -> None:
    """However a job comes to be promised, its stock is held with it, or it is not promised."""
    if move.to_stage != Stage.PROMISED or move.from_stage not in TAKEN_UP_BY_A_PROMISE:
        return
    if holds_open(move.job).exists():
        return
    quote = _quote_meant(move.job)
    if quote is not None:
        quote_hold(quote=quote, now=move.moved_at)


def rest_to_buy_list(
    answer: Answer, *, own_days: dict[int, date], by: User | None, now: datetime
) -> None:
    """Everything that is short and not on the list yet. `own_days`: by item, where no supplier
    is known or the owner knows better."""
    wanted = [
        Wanted(
            item=line.item.pk,
            quantity=answer.demand.quantities[line.item.pk],
            supplier=None if line.item.pk in own_days else line.purchase.supplier,
            arrives_on=own_days.get(line.item.pk) or line.purchase.arrives_on,
        )
        for line in answer.unacknowledged
    ]
    needs_acknowledge(job=answer.job, wanted=wanted, needed_on=answer.needed_on, by=by, now=now)


def quotes_with_pieces(job: Job) -> list[Quote]:
    """Those that were sent, where any were: a draft beside them is an idea only."""
    quotes = job.quotes.filter(pieces__isnull=False).distinct()
    return list(quotes.filter(editions__isnull=False)) or list(quotes)


def _quote_meant(job: Job) -> Quote | None:
    """The one its client accepted; else the only one; else the one that was held for the job
    before it was called off."""
    accepted = job.quotes.filter(stage=QuoteStage.ACCEPTED).order_by("-changed_at").first()
    if accepted:
        return accepted
    quotes = quotes_with_pieces(job)
    if len(quotes) < 2:
        return quotes[0] if quotes else None
    last = job.holds.order_by("-placed_at").first()
    meant = next((quote for quote in quotes if last and quote.number == last.source), None)
    if meant is None:
        raise MoveRefused(WHICH_QUOTE)
    return meant
