"""Sending: what the client gets is frozen, with the very PDF and its fingerprint."""

import hashlib
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from django.contrib.auth.models import User
from django.db import transaction
from django.utils import timezone

from decor.business.service import the_business
from decor.documents.pdf import render_pdf
from decor.jobs.stages import job_move
from decor.models import Job
from decor.models.job import Stage
from quoting.documents.quote_document import TEMPLATE, quote_document
from quoting.models import Edition, Quote
from quoting.models.quote import QuoteStage
from quoting.quotes.changes import edition_changes, latest_edition, stage_now
from quoting.quotes.checks import SendProblem, send_problems
from quoting.quotes.frozen import inputs_of, result_of
from quoting.quotes.pricing import quote_priced
from quoting.quotes.refusal import QuoteRefused
from quoting.quotes.since import since_line

CHANGED_MEANWHILE = (
    "Something on this quote changed while it was being made ready. Look at it again, then send."
)
NOTHING_NEW = "Nothing has changed since edition {number} was sent."


class CannotSend(QuoteRefused):
    """`problems` says what stands in the way, each with its place on the page."""

    def __init__(self, problems: tuple[SendProblem, ...]) -> None:
        self.problems = problems
        super().__init__(" ".join(problem.message for problem in problems))


@dataclass(frozen=True, kw_only=True)
class Draft:
    """All that an edition would freeze now, and the number it would get."""

    number: int
    inputs: dict[str, Any]
    result: dict[str, Any]
    changes: list[str]


def draft_of(quote: Quote, *, today: date) -> Draft:
    """Raises CannotSend."""
    business, latest = the_business(), latest_edition(quote)
    priced = quote_priced(quote, today=today)
    problems = send_problems(priced, business=business, today=today)
    if problems:
        raise CannotSend(problems)
    inputs, result = inputs_of(priced, business=business), result_of(priced, today=today)
    inputs["since"] = since_line(latest, inputs, result) if latest else ""
    return Draft(
        number=latest.number + 1 if latest else 1,
        inputs=inputs,
        result=result,
        changes=_changes(latest, inputs, result),
    )


def quote_send(*, quote: Quote, by: User | None, now: datetime) -> Edition:
    """Makes the next edition, or raises QuoteRefused. Renders before it locks anything."""
    today = timezone.localdate(now)
    draft = draft_of(quote, today=today)
    _refuse_nothing_new(quote, draft)
    pdf = _rendered(draft, edition=draft.number, made_on=today)
    with transaction.atomic():
        Job.objects.select_for_update(no_key=True).get(pk=quote.job_id)
        locked = Quote.objects.select_for_update(of=("self",), no_key=True).get(pk=quote.pk)
        if draft_of(locked, today=today) != draft:
            raise QuoteRefused(CHANGED_MEANWHILE)
        edition = _frozen(locked, draft, pdf=pdf, by=by, now=now)
        Quote.objects.filter(pk=quote.pk).update(stage=QuoteStage.SENT, changed_at=now)
        if locked.job.stage == Stage.ASKED:
            reason = f"Quote {quote.number}, edition {edition.number}, was sent"
            job_move(job=locked.job, to=Stage.QUOTED, by=by, reason=reason, now=now)
    quote.refresh_from_db()
    return edition


def preview_pdf(quote: Quote, *, today: date) -> bytes:
    """As it would be sent now. Raises CannotSend."""
    return _rendered(draft_of(quote, today=today), edition=None, made_on=None)


def _rendered(draft: Draft, *, edition: int | None, made_on: date | None) -> bytes:
    context = quote_document(draft.inputs, draft.result, edition=edition, made_on=made_on)
    paper, photos = draft.inputs["business"]["paper"], draft.inputs["photos"]
    return render_pdf(TEMPLATE, context, paper, photos=photos)


def _changes(latest: Edition | None, inputs: dict[str, Any], result: dict[str, Any]) -> list[str]:
    if latest is None:
        return []
    return edition_changes(
        latest.inputs,
        inputs,
        total_before=latest.total_cents,
        total_after=result["price"]["total_cents"],
    )


def _refuse_nothing_new(quote: Quote, draft: Draft) -> None:
    if stage_now(quote) in (QuoteStage.SENT, QuoteStage.ACCEPTED):
        raise QuoteRefused(NOTHING_NEW.format(number=draft.number - 1))


def _frozen(quote: Quote, draft: Draft, *, pdf: bytes, by: User | None, now: datetime) -> Edition:
    price = draft.result["price"]
    return Edition.objects.create(
        quote=quote,
        number=draft.number,
        sent_at=now,
        sent_by=by,
        rate_card=quote.rate_card,
        inputs=draft.inputs,
        result=draft.result,
        currency=draft.inputs["business"]["currency"],
        net_cents=price["net_cents"],
        tax_cents=price["tax_cents"],
        total_cents=price["total_cents"],
        deposit_cents=draft.result["payment"]["deposit_cents"],
        expires_on=quote.expires_on,
        pdf=pdf,
        pdf_sha256=hashlib.sha256(pdf).hexdigest(),
        changes=draft.changes,
    )
