"""Sending freezes an edition: its inputs, its price, the very PDF. Some things stand in its way."""

import hashlib
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta

import pytest
from django.contrib.auth.models import User
from django.db import transaction
from django.utils import timezone

from decor.jobs.service import job_archive
from decor.jobs.stages import job_move
from decor.models import Business, Job
from decor.models.job import Stage
from quoting.documents.quote_document import MOST_LINES, TOO_MANY_LINES
from quoting.models import Edition, Quote
from quoting.models.quote import DiscountKind, QuoteStage
from quoting.quotes import checks
from quoting.quotes.editions import (
    CHANGED_MEANWHILE,
    CannotSend,
    draft_of,
    preview_pdf,
)
from quoting.quotes.pricing import NOT_DESCRIBED
from quoting.quotes.service import QuoteRefused
from tests.factories import ExtraLineFactory, PieceFactory, arch_spec
from tests.quoting.quotes.sending import NOW, send, while_rendering, widen

# ---- What is frozen ----


def test_sending_keeps_the_inputs_the_price_and_the_pdf(quote: Quote, owner: User) -> None:
    edition = send(quote, owner)

    assert (edition.number, edition.sent_at, edition.sent_by) == (1, NOW, owner)
    assert bytes(edition.pdf).startswith(b"%PDF-1.7")
    assert edition.pdf_sha256 == hashlib.sha256(bytes(edition.pdf)).hexdigest()
    assert edition.rate_card == quote.rate_card
    assert edition.expires_on == quote.expires_on
    assert edition.changes == []
    assert edition.net_cents + edition.tax_cents == edition.total_cents
    offer = edition.inputs["offer"]
    assert offer["client"]["name"] == "Wexcombe Bay Library"
    assert offer["site"]["name"] == "Library porch"
    assert offer["job"]["event_on"] == "2026-06-20"
    assert offer["pieces"][0]["spec"] == arch_spec()
    assert edition.inputs["rates"] == quote.rate_card.rates
    assert edition.inputs["business"]["name"] == "Larkspur Lane Garlands"
    assert edition.inputs["catalogue"]["items"]
    assert edition.inputs["in_words"][0]["words"]
    price = edition.result["price"]
    assert sum(line["amount_cents"] for line in price["lines"]) == edition.total_cents
    assert edition.result["estimates"][0]["balloons"]


def test_the_kept_pdf_reads_back_the_same(quote: Quote) -> None:
    edition = send(quote)

    kept = Edition.objects.get(pk=edition.pk)

    assert hashlib.sha256(bytes(kept.pdf)).hexdigest() == kept.pdf_sha256
    assert kept.inputs == edition.inputs
    assert kept.result == edition.result


def test_sending_moves_an_asked_job_to_quoted_and_says_why(quote: Quote, owner: User) -> None:
    send(quote, owner)

    quote.job.refresh_from_db()
    move = quote.job.stage_moves.get()
    assert quote.stage == QuoteStage.SENT
    assert quote.job.stage == Stage.QUOTED
    assert (move.moved_by, move.moved_at) == (owner, NOW)
    assert "LL-1042, edition 1" in move.reason


def test_a_job_further_on_stays_where_it_is(quote: Quote, owner: User) -> None:
    send(quote)
    quote.job.refresh_from_db()
    Job.objects.update(stage=Stage.PROMISED)
    quote.job.refresh_from_db()
    widen(quote)

    send(quote)

    quote.job.refresh_from_db()
    assert quote.job.stage == Stage.PROMISED


def test_the_day_is_the_businesss_own_day(quote: Quote) -> None:
    """Half past one at night on the 14th in UTC is still the 13th in New York."""
    with timezone.override("America/New_York"):
        edition = send(quote, now=datetime(2026, 6, 14, 1, 30, tzinfo=UTC))

    assert edition.inputs["lead_days"] == 7


# ---- What cannot be sent ----


def _no_lines(quote: Quote) -> None:
    quote.pieces.all().delete()


def _not_described(quote: Quote) -> None:
    PieceFactory(quote=quote, spec=None)


def _behind(quote: Quote) -> None:
    quote.pieces.update(spec_is_behind=True)


def _no_date(quote: Quote) -> None:
    quote.job.event_on = None
    quote.job.save()


def _past_event(quote: Quote) -> None:
    quote.job.event_on = date(2026, 6, 12)
    quote.job.save()


def _ran_out(quote: Quote) -> None:
    quote.expires_on = date(2026, 6, 12)
    quote.save()


def _runs_out_after(quote: Quote) -> None:
    quote.expires_on = date(2026, 6, 21)
    quote.save()


def _all_given_away(quote: Quote) -> None:
    quote.discount_kind, quote.discount_bp = DiscountKind.PERCENT, 10_000
    quote.save()


def _crowded(quote: Quote) -> None:
    for _ in range(MOST_LINES):
        ExtraLineFactory(quote=quote)


def _archived(quote: Quote) -> None:
    job_archive(job=quote.job, now=NOW)
    quote.job.refresh_from_db()


def _let_go(quote: Quote) -> None:
    job_move(job=quote.job, to=Stage.LET_GO, by=None, reason="No answer", now=NOW)


def _other_currency(quote: Quote) -> None:
    Business.objects.update(currency="EUR")


@pytest.mark.parametrize(
    ("spoil", "where", "message"),
    [
        (_no_lines, "pieces", checks.NOTHING_ON_IT),
        (_not_described, "piece-", NOT_DESCRIBED),
        (_behind, "piece-", checks.PIECE_IS_BEHIND),
        (_no_date, "job", checks.NO_EVENT_DATE),
        (_past_event, "job", checks.EVENT_HAS_PASSED.format(day="Friday 12 June 2026")),
        (_archived, "job", checks.JOB_IS_ARCHIVED),
        (_let_go, "job", checks.JOB_HAS_ENDED.format(stage="let go")),
        (_ran_out, "conditions", checks.HAS_RUN_OUT.format(day="Friday 12 June 2026")),
        (_runs_out_after, "conditions", checks.RUNS_OUT_AFTER.format(day="Sunday 21 June 2026")),
        (_all_given_away, "discount", checks.COMES_TO_NOTHING),
        (_crowded, "pieces", TOO_MANY_LINES),
        (_other_currency, "rates", checks.OTHER_CURRENCY.format(card="USD", own="EUR")),
    ],
)
def test_what_stands_in_the_way_is_said_beside_what_is_wrong(
    quote: Quote, spoil: Callable[[Quote], None], where: str, message: str
) -> None:
    spoil(quote)

    with pytest.raises(CannotSend) as refused:
        send(quote)

    (problem,) = refused.value.problems
    assert problem.where.startswith(where)
    assert problem.message == message
    assert not quote.editions.exists()


def test_all_that_is_wrong_is_said_at_once(quote: Quote) -> None:
    _no_lines(quote)
    _no_date(quote)
    _ran_out(quote)

    with pytest.raises(CannotSend) as refused:
        send(quote)

    assert [problem.where for problem in refused.value.problems] == ["job", "pieces", "conditions"]


def test_extra_lines_alone_can_be_sent(quote: Quote) -> None:
    _no_lines(quote)
    ExtraLineFactory(quote=quote)

    assert send(quote).total_cents > 0


def test_a_preview_is_refused_for_the_same_reasons_and_keeps_nothing(
    quote: Quote, today: date
) -> None:
    assert preview_pdf(quote, today=today).startswith(b"%PDF")
    _no_date(quote)

    with pytest.raises(CannotSend):
        preview_pdf(quote, today=today)
    assert not Edition.objects.exists()
    assert quote.stage == QuoteStage.DRAFT


# ---- Two things at once ----


@pytest.mark.django_db(transaction=True)
def test_the_pdf_is_set_outside_any_transaction(quote: Quote) -> None:
    with while_rendering(lambda: None) as seen:
        send(quote)

    assert seen == [False]


def test_a_change_made_while_the_pdf_is_set_stops_the_sending(quote: Quote) -> None:
    with (
        while_rendering(lambda: widen(quote)),
        pytest.raises(QuoteRefused, match=CHANGED_MEANWHILE),
    ):
        send(quote)

    assert not quote.editions.exists()
    quote.job.refresh_from_db()
    assert quote.job.stage == Stage.ASKED


def test_of_two_who_send_at_once_one_is_told_to_look_again(quote: Quote) -> None:
    other = Quote.objects.get(pk=quote.pk)
    sent: list[Edition] = []

    def send_too() -> None:
        if not sent:
            sent.append(None)  # once, and not again from within
            sent[0] = send(other)

    with while_rendering(send_too), pytest.raises(QuoteRefused, match=CHANGED_MEANWHILE):
        send(quote)

    assert [edition.number for edition in quote.editions.all()] == [1]


def test_a_draft_is_the_same_twice(quote: Quote, today: date) -> None:
    with transaction.atomic():
        assert draft_of(quote, today=today) == draft_of(quote, today=today)


def test_a_day_later_the_same_quote_may_cost_more(quote: Quote) -> None:
    """Fewer days of notice, more rush: the edition keeps the price of the day it was sent."""
    first = send(quote)
    widen(quote, 2.41)

    later = send(quote, now=NOW + timedelta(days=4))

    assert later.inputs["lead_days"] == first.inputs["lead_days"] - 4
    assert later.total_cents > first.total_cents
