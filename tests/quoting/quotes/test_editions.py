"""A later change makes the next edition; nothing changes one that was sent."""

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.db import transaction

from decor.models import Business
from decor.models.append_only import WrittenOnce
from inventory.models import Item
from quoting.models import Edition, Quote
from quoting.models.quote import DiscountKind, QuoteStage
from quoting.quotes.editions import (
    NOTHING_NEW,
)
from quoting.quotes.service import QuoteRefused
from quoting.rate_cards.service import rate_card_change
from tests.quoting.quotes.sending import send, widen

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
