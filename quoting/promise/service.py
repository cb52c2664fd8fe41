"""What a client answers to an edition, and what comes of it at once.

An edition is answered once. Whoever comes second, on another phone or by a second press, gets the
answer of the first. What was answered stays as it was said; whether the job is promised is told
by its stage, as the owner may confirm later what could not be promised at once.
"""

from dataclasses import dataclass
from datetime import datetime

from django.db import transaction
from django.utils import timezone

from decor.business.service import the_business
from decor.letters.service import Attachment, letter_confirm
from decor.models.letter import LetterKind
from quoting.models import ClientAnswer, ClientLink, ClientQuestion, Edition, Piece, Quote
from quoting.models.client_page import AnswerKind
from quoting.models.quote import QuoteStage
from quoting.pieces.variants import variant_choose
from quoting.promise.promising import Promise, promise_locked, promise_make
from quoting.promise.refusal import NotPromised
from quoting.promise.states import PageState, edition_state, link_state
from quoting.promise.telling import answer_tell, question_tell
from quoting.quotes.combinations import Chosen, Combination, frozen_combination
from quoting.quotes.touching import quote_touched

ACCEPTED = "The client accepted edition {number} of {quote}"
LONGEST_NOTE = ClientAnswer._meta.get_field("note").max_length


@dataclass(frozen=True, kw_only=True)
class Said:
    """Who said yes, and from where. No link: the owner heard it."""

    typed_name: str
    link: ClientLink | None = None
    address: str | None = None


class AnswerRefused(Exception):
    """The edition cannot be answered any more; `state` says why."""

    def __init__(self, state: PageState) -> None:
        self.state = state
        super().__init__(f"It cannot be answered: {state}")


@transaction.atomic
def edition_accept(
    *,
    edition: Edition,
    link: ClientLink | None,
    typed_name: str,
    chosen: Chosen,
    address: str | None,
    now: datetime,
) -> ClientAnswer:
    """Raises AnswerRefused, or NotOnOffer for what the edition does not offer. Where it cannot be
    promised at once the answer is kept all the same, and says so."""
    with promise_locked(edition.quote.job):
        edition, before = _as_it_is(edition, link, now, unless=AnswerKind.ACCEPTED)
        if before:
            return before
        combination = frozen_combination(edition.result, chosen)
        quote_is_accepted(edition.quote)
        promise = _promise(edition, combination, now)
        said = Said(link=link, typed_name=typed_name, address=address)
        answer = answer_keep(edition, combination, promise, said, now)
        if link:
            answer_tell(answer, now=now)
        _confirm(LetterKind.ACCEPTED, answer, now, attachment=edition_pdf(edition))
        return answer


@transaction.atomic
def edition_decline(
    *, edition: Edition, link: ClientLink | None, reason: str, address: str | None, now: datetime
) -> ClientAnswer:
    """The job stays where it is: whether it is lost is for the owner to say."""
    with promise_locked(edition.quote.job):
        edition, before = _as_it_is(edition, link, now, unless=AnswerKind.DECLINED)
        if before:
            return before
        answer = ClientAnswer.objects.create(
            edition=edition,
            link=link,
            kind=AnswerKind.DECLINED,
            reason=reason,
            at=now,
            timezone=timezone.get_current_timezone_name(),
            address=address,
            pdf_sha256=edition.pdf_sha256,
        )
        quote_touched(edition.quote)
        if link:
            answer_tell(answer, now=now)
        _confirm(LetterKind.DECLINED, answer, now)
        return answer


@transaction.atomic
def question_ask(*, quote: Quote, text: str, typed_name: str, now: datetime) -> ClientQuestion:
    question = ClientQuestion.objects.create(
        quote=quote, text=text, typed_name=typed_name, asked_at=now
    )
    question_tell(question, now=now)
    letter_confirm(
        kind=LetterKind.ASKED,
        job=quote.job,
        now=now,
        told={"quote_number": quote.number, "question": text},
        entry_key=f"question-{question.pk}",
    )
    return question


def question_answered(*, question: ClientQuestion, now: datetime) -> None:
    ClientQuestion.objects.filter(pk=question.pk, answered_at=None).update(answered_at=now)


def question_open_again(*, question: ClientQuestion) -> None:
    ClientQuestion.objects.filter(pk=question.pk).update(answered_at=None)


def answer_keep(
    edition: Edition, combination: Combination, promise: Promise, said: Said, now: datetime
) -> ClientAnswer:
    answer = ClientAnswer.objects.create(
        edition=edition,
        link=said.link,
        kind=AnswerKind.ACCEPTED,
        typed_name=said.typed_name,
        chosen={str(number): pk for number, pk in combination.chosen.items()},
        net_cents=combination.net_cents,
        tax_cents=combination.tax_cents,
        total_cents=combination.total_cents,
        at=now,
        timezone=timezone.get_current_timezone_name(),
        address=said.address,
        pdf_sha256=edition.pdf_sha256,
        outcome=promise.outcome,
        note=promise.note[:LONGEST_NOTE],
    )
    choice_counts(edition.quote, combination.chosen)
    return answer


def quote_is_accepted(quote: Quote) -> None:
    """Before the job moves: whoever asks then which of its quotes is meant must find this one."""
    Quote.objects.filter(pk=quote.pk).update(stage=QuoteStage.ACCEPTED)


def choice_counts(quote: Quote, chosen: Chosen) -> None:
    """What the client chose counts in the draft too, so far as the draft still has it."""
    pieces = Piece.objects.filter(quote=quote, pk__in=chosen.values(), counts=False)
    for piece in pieces.select_related("quote"):
        variant_choose(piece=piece)
    quote_touched(quote)


def edition_pdf(edition: Edition) -> Attachment:
    pdf = Edition.objects.values_list("pdf", flat=True).get(pk=edition.pk)
    name = f"{edition.quote.number}-edition-{edition.number}.pdf"
    return Attachment(name, "application/pdf", bytes(pdf))


def _as_it_is(
    edition: Edition, link: ClientLink | None, now: datetime, *, unless: AnswerKind
) -> tuple[Edition, ClientAnswer | None]:
    """Once nobody else can answer; with the answer there is, where it is of this kind."""
    fresh = Edition.objects.defer("pdf").select_related("quote__job__client", "quote__job__site")
    edition = fresh.get(pk=edition.pk)
    if link:
        link = ClientLink.objects.select_related("quote__job").get(pk=link.pk)
        _refuse(link_state(link, business=the_business(), now=now))
    before = edition.answers.first()
    if before and before.kind == unless:
        return edition, before
    if Edition.objects.filter(quote=edition.quote_id, number__gt=edition.number).exists():
        raise AnswerRefused(PageState.REPLACED)
    _refuse(edition_state(edition, today=timezone.localdate(now)))
    return edition, None


def _refuse(state: PageState) -> None:
    if state != PageState.OPEN:
        raise AnswerRefused(state)


def _promise(edition: Edition, combination: Combination, now: datetime) -> Promise:
    """What cannot be held at once is not promised: the owner confirms."""
    why = ACCEPTED.format(number=edition.number, quote=edition.quote.number)
    try:
        return promise_make(
            edition=edition, combination=combination, why=why, by_client=True, by=None, now=now
        )
    except NotPromised as refused:
        edition.quote.job.refresh_from_db()
        return Promise(outcome=refused.outcome, note=str(refused))


def _confirm(
    kind: LetterKind, answer: ClientAnswer, now: datetime, *, attachment: Attachment | None = None
) -> None:
    quote = answer.edition.quote
    letter_confirm(
        kind=kind,
        job=quote.job,
        now=now,
        attachment=attachment,
        told={"quote_number": quote.number},
        entry_key=f"answer-{answer.pk}",
    )
