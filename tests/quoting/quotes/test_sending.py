"""Sending freezes an edition: its inputs, its price, the very PDF. Nothing changes it again."""

import hashlib
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.db import connection, transaction
from django.test.signals import template_rendered
from django.utils import timezone

from decor.jobs.service import job_archive
from decor.jobs.stages import job_move
from decor.models import Business
from decor.models.append_only import WrittenOnce
from decor.models.job import Stage
from inventory.models import Item
from quoting.documents.quote_document import MOST_LINES, TEMPLATE, TOO_MANY_LINES
from quoting.models import Edition, Quote
from quoting.models.quote import DiscountKind, QuoteStage
from quoting.quotes import checks
from quoting.quotes.editions import (
    CHANGED_MEANWHILE,
    NOTHING_NEW,
    CannotSend,
    draft_of,
    preview_pdf,
)
from quoting.quotes.pricing import NOT_DESCRIBED
from quoting.quotes.service import QuoteRefused, quote_send, quote_touched
from quoting.rate_cards.service import rate_card_change
from tests.factories import ExtraLineFactory, PieceFactory, arch_spec

NOW = datetime(2026, 6, 13, 15, 0, tzinfo=UTC)


def send(quote: Quote, by: User | None = None, now: datetime = NOW) -> Edition:
    return quote_send(quote=quote, by=by, now=now)


def widen(quote: Quote, width_m: float = 2.7) -> None:
    piece = quote.pieces.first()
    piece.spec = arch_spec(width_m=width_m)
    piece.save()
    quote_touched(quote)


@contextmanager
def while_rendering(act: Callable[[], None]) -> Iterator[list[bool]]:
    """Does something at the moment when the PDF's template is filled; says if in a transaction."""
    seen: list[bool] = []

    def rendered(sender: Any, template: Any, **kwargs: Any) -> None:
        if template.name == TEMPLATE:
            seen.append(connection.in_atomic_block)
            act()

    template_rendered.connect(rendered)
    try:
        yield seen
    finally:
        template_rendered.disconnect(rendered)


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
    job_move(job=quote.job, to=Stage.PROMISED, by=owner, now=NOW)
    widen(quote)

    send(quote)

    quote.job.refresh_from_db()
    assert quote.job.stage == Stage.PROMISED


def test_the_day_is_the_businesss_own_day(quote: Quote) -> None:
    """Half past one at night on the 14th in UTC is still the 13th in New York."""
    with timezone.override("America/New_York"):
        edition = send(quote, now=datetime(2026, 6, 14, 1, 30, tzinfo=UTC))

    assert edition.inputs["lead_days"] == 7


# ---- The next edition ----


def test_a_change_makes_the_next_edition_and_says_what_changed(quote: Quote) -> None:
    first = send(quote)
    quote.discount_kind, quote.discount_bp = DiscountKind.PERCENT, 1000
    quote.discount_reason = "Friends"
    quote.save()
    widen(quote)
    assert quote.stage == QuoteStage.CHANGED

    second = send(quote)

    assert second.number == 2
    assert quote.stage == QuoteStage.SENT
    assert second.changes[0] == "Garland over the door: width 7 ft 10 in → 8 ft 10 in"
    assert "Discount none → Friends (10 %)" in second.changes
    assert second.changes[-1].startswith("Total $")
    assert bytes(second.pdf) != bytes(first.pdf)


def test_sending_the_same_again_is_refused(quote: Quote) -> None:
    send(quote)

    with pytest.raises(QuoteRefused, match=NOTHING_NEW.format(number=1)):
        send(quote)

    assert quote.editions.count() == 1


def test_a_change_that_is_undone_leaves_nothing_to_send(quote: Quote) -> None:
    send(quote)
    widen(quote, 2.7)
    widen(quote, 2.4)

    assert quote.stage == QuoteStage.SENT
    with pytest.raises(QuoteRefused):
        send(quote)


def test_another_day_for_the_job_is_a_change(quote: Quote) -> None:
    send(quote)
    quote.job.event_on = date(2026, 6, 27)
    quote.job.save()

    edition = send(quote)

    assert "Date Saturday 20 June 2026 → Saturday 27 June 2026" in edition.changes


def test_editions_are_numbered_without_gaps(quote: Quote) -> None:
    for width in (2.4, 2.5, 2.6):
        widen(quote, width)
        send(quote)

    assert [edition.number for edition in quote.editions.all()] == [1, 2, 3]


# ---- Nothing changes it again ----


def test_an_edition_cannot_be_saved_again_or_deleted(quote: Quote) -> None:
    edition = send(quote)
    edition.total_cents = edition.net_cents = 1

    with pytest.raises(WrittenOnce):
        edition.save()
    with pytest.raises(WrittenOnce):
        edition.delete()
    assert Edition.objects.get(pk=edition.pk).total_cents > 1


@pytest.mark.parametrize(
    "act",
    [
        lambda editions, one: editions.update(total_cents=1),
        lambda editions, one: editions.delete(),
        lambda editions, one: editions.bulk_update([one], ["total_cents"]),
        lambda editions, one: editions.filter(number=1).update(pdf=b""),
        lambda editions, one: editions.update_or_create(
            quote=one.quote, number=1, defaults={"total_cents": 1}
        ),
    ],
)
def test_no_query_changes_an_edition(quote: Quote, act: Callable[..., Any]) -> None:
    edition = send(quote)

    with pytest.raises(WrittenOnce), transaction.atomic():
        act(Edition.objects.all(), edition)

    assert Edition.objects.get(pk=edition.pk).pdf_sha256 == edition.pdf_sha256


def test_a_quote_with_editions_cannot_be_deleted(quote: Quote) -> None:
    send(quote)

    with pytest.raises(Exception, match=r"(?i)protected"):
        quote.delete()


def test_new_rates_and_prices_do_not_change_what_was_sent(
    quote: Quote, owner: User, today: date
) -> None:
    edition = send(quote)
    before = (edition.inputs, edition.result, bytes(edition.pdf), edition.total_cents)

    rates = quote.rate_card.as_rates()
    dearer = type(rates)(**{**vars(rates), "margin_bp": 6000, "minimum_cents": 90_000})
    rate_card_change(rates=dearer, terms="Other terms", starts_on=today, note="", by=owner)
    Item.objects.update(bag_cents=9_999)
    Business.objects.update(name="Another Name")

    kept = Edition.objects.get(pk=edition.pk)
    assert (kept.inputs, kept.result, bytes(kept.pdf), kept.total_cents) == before
    quote.refresh_from_db()
    assert quote.rate_card.version == 1


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
