"""Rows that reports add up: sent quotes, answers, payments, on days of one's choosing."""

from datetime import UTC, date, datetime
from typing import Any

from decor.jobs.stages import ENDED_EARLY
from decor.models import Job, PaymentLine, StageMove
from decor.models.job import Stage
from decor.models.payment import Means
from decor.payments.service import payment_correct, payment_refund, payment_take
from quoting.models import ClientAnswer, Edition
from quoting.models.client_page import AnswerKind, Outcome
from tests.factories import JobFactory, QuoteFactory


def noon(day: date) -> datetime:
    return datetime(day.year, day.month, day.day, 16, tzinfo=UTC)


def sent(
    job: Job, at: datetime, *, net: int = 400_00, cost: int | None = 250_00, **result: Any
) -> Edition:
    """An edition as far as reports read it."""
    quote = job.quotes.first() or QuoteFactory(job=job)
    return Edition.objects.create(
        quote=quote,
        number=quote.editions.count() + 1,
        sent_at=at,
        rate_card=quote.rate_card,
        inputs={},
        result={"price": {"cost_cents": cost}, "combinations": [], **result},
        currency="USD",
        net_cents=net,
        tax_cents=0,
        total_cents=net,
        deposit_cents=0,
        expires_on=quote.expires_on,
        pdf=b"",
        pdf_sha256="0" * 64,
    )


def answered(edition: Edition, at: datetime, *, accepted: bool = True, **said: Any) -> ClientAnswer:
    net = said.pop("net", edition.net_cents)
    return ClientAnswer.objects.create(
        edition=edition,
        kind=AnswerKind.ACCEPTED if accepted else AnswerKind.DECLINED,
        outcome=Outcome.HELD if accepted else "",
        typed_name="Ada Brannigan",
        net_cents=net,
        total_cents=net,
        at=at,
        timezone="America/New_York",
        pdf_sha256="0" * 64,
        **said,
    )


def job_at(stage: Stage, *, why: str = "", on: date = date(2026, 5, 2), **given: Any) -> Job:
    job = JobFactory(stage=stage, **given)
    if stage in ENDED_EARLY:
        StageMove.objects.create(
            job=job, from_stage=Stage.QUOTED, to_stage=stage, reason=why, moved_at=noon(on)
        )
    return job


def paid(job: Job, cents: int, on: date) -> PaymentLine:
    """Below zero: given back."""
    enter = payment_take if cents > 0 else payment_refund
    return enter(
        job=job,
        amount_cents=abs(cents),
        means=Means.CASH,
        on=on,
        note="",
        by=None,
        now=noon(on),
    )


def corrected(line: PaymentLine, on: date) -> PaymentLine:
    return payment_correct(line=line, note="A slip", by=None, now=noon(on))
