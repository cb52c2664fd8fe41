"""The owner says that the client said yes, or confirms what the client accepted on their page."""

from datetime import datetime

from django.contrib.auth.models import User
from django.db import transaction

from decor.jobs.stages import ALREADY_THERE, ARCHIVED, NO_SUCH_WAY, MoveRefused
from decor.models import Job
from decor.models.job import Stage
from quoting.covering.promising import quote_promise as draft_promise
from quoting.models import ClientAnswer, Edition, Quote
from quoting.models.client_page import AnswerKind
from quoting.promise.promising import Promise, promise_locked, promise_make
from quoting.promise.service import Said, answer_keep, quote_is_accepted
from quoting.promise.states import is_promised
from quoting.quotes.changes import is_as_offered, latest_edition
from quoting.quotes.combinations import Chosen, Combination, NotOnOffer, frozen_combination
from quoting.quotes.touching import quote_touched

SAID_YES = "The client said yes to edition {number} of {quote}"
BY_HAND = "Entered by hand: your client told you."
WAS_DECLINED = "Your client declined edition {number}. Send them the next edition first."
SEND_FIRST = (
    "Quote {quote} has changed since edition {number} was sent. Send it again, so that what your "
    "client says yes to is kept."
)


@transaction.atomic
def said_yes(*, quote: Quote, overruled: str = "", by: User | None, now: datetime) -> None:
    """Raises MoveRefused or NotPromised, and then nothing was kept. `overruled` is why it is
    promised although the hours are not there. A quote that was never sent is promised as it is."""
    with promise_locked(quote.job):
        _said_yes(quote, overruled, by, now)


def _said_yes(quote: Quote, overruled: str, by: User | None, now: datetime) -> None:
    quote.job.refresh_from_db()
    edition = latest_edition(quote)
    if edition is None:
        draft_promise(quote=quote, by=by, now=now)
        return
    edition.quote = quote
    answer = edition.answers.first()
    if answer and answer.kind == AnswerKind.DECLINED:
        raise MoveRefused(WAS_DECLINED.format(number=edition.number))
    _refuse_other_stages(quote.job, answer)
    if answer:
        chosen = {int(number): pk for number, pk in answer.chosen.items()}
        _made(edition, frozen_combination(edition.result, chosen), overruled, by, now)
        quote_touched(quote)
        return
    combination = _as_it_counts(quote, edition)
    promise = _made(edition, combination, overruled, by, now)
    note = " ".join(filter(None, [BY_HAND, promise.note]))
    promise = Promise(outcome=promise.outcome, note=note)
    said = Said(typed_name=quote.job.client.name)
    answer_keep(edition, combination, promise, said, now)


def is_to_be_confirmed(quote: Quote) -> ClientAnswer | None:
    """What the client accepted, where nothing is promised for it yet."""
    edition = latest_edition(quote)
    answer = edition.answers.filter(kind=AnswerKind.ACCEPTED).first() if edition else None
    if answer is None or not _may_be_promised(quote.job, answer):
        return None
    answer.edition.quote = quote
    return answer


def _refuse_other_stages(job: Job, answer: ClientAnswer | None) -> None:
    if job.is_archived:
        raise MoveRefused(ARCHIVED)
    if _may_be_promised(job, answer):
        return
    if job.stage == Stage.PROMISED:
        raise MoveRefused(ALREADY_THERE)
    here = Stage(job.stage).label
    raise MoveRefused(NO_SUCH_WAY.format(here=here, there=Stage.PROMISED.label))


def _may_be_promised(job: Job, answer: ClientAnswer | None) -> bool:
    """A later edition may wait to be confirmed while an earlier one is promised."""
    if job.stage == Stage.QUOTED:
        return True
    is_held = job.stage in (Stage.PROMISED, Stage.MADE)
    return is_held and answer is not None and not is_promised(answer)


def _as_it_counts(quote: Quote, edition: Edition) -> Combination:
    """With the variants that count in the draft now, as the owner lets another one count when the
    client names it."""
    chosen: Chosen = dict(
        quote.pieces.filter(counts=True, choice__isnull=False).values_list("choice", "pk")
    )
    send_first = SEND_FIRST.format(quote=quote.number, number=edition.number)
    if not is_as_offered(quote, edition, chosen=chosen.values()):
        raise MoveRefused(send_first)
    try:
        return frozen_combination(edition.result, chosen)
    except NotOnOffer as other:
        raise MoveRefused(send_first) from other


def _made(
    edition: Edition, combination: Combination, overruled: str, by: User | None, now: datetime
) -> Promise:
    quote_is_accepted(edition.quote)
    return promise_make(
        edition=edition,
        combination=combination,
        why=SAID_YES.format(number=edition.number, quote=edition.quote.number),
        by_client=False,
        overruled=overruled,
        by=by,
        now=now,
    )
