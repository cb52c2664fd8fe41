"""The pages of a quote, from its start: what they say to its owner."""

from datetime import date, timedelta

import pytest
from django.test import Client as Browser
from django.urls import reverse

from decor.models import Business, Job
from quoting.models import Quote, RateCard
from quoting.models.quote import QuoteStage
from quoting.quotes import checks
from quoting.quotes.page_warnings import NO_DISTANCE, NO_PLACE
from quoting.quotes.service import JOB_IS_ARCHIVED
from tests.factories import (
    ExtraLineFactory,
    JobFactory,
    PieceFactory,
    RateCardFactory,
    arch_spec,
)
from tests.quoting.quotes.browsing import NOON, page, sent

pytestmark = pytest.mark.usefixtures("noon")


# ---- Starting ----


def test_a_quote_is_started_from_its_job(owner_client: Browser) -> None:
    RateCardFactory()
    job = JobFactory()

    answer = owner_client.post(reverse("quote_new", args=[job.pk]))

    quote = job.quotes.get()
    assert answer.url == reverse("quote_detail", args=[quote.pk])
    assert quote.number == "LL-1001"
    assert quote.expires_on == date(2026, 6, 19)


def test_an_archived_job_is_told_why_not(owner_client: Browser) -> None:
    RateCardFactory()
    job = JobFactory(archived_at=NOON)

    answer = owner_client.post(reverse("quote_new", args=[job.pk]), follow=True)

    assert JOB_IS_ARCHIVED in answer.content.decode()
    assert not job.quotes.exists()


# ---- The quote ----


def test_the_page_shows_pieces_prices_steps_and_payments(
    quote: Quote, owner_client: Browser
) -> None:
    ExtraLineFactory(quote=quote, label="Hired oak backdrop", quantity=2)

    shown = page(owner_client, "quote_detail", quote.pk)

    for words in (
        "Quote LL-1042",
        "Draft",
        "Garland over the door",
        "oat and fern",
        "Hired oak backdrop",
        "$130.00",
        "What the client pays",
        "Deposit",
        "by Monday 15 June 2026",
        "a margin, not a markup",
        "Margin, not markup",
        "Strike fee",
        "Overhead",
        reverse("quote_send", args=[quote.pk]),
    ):
        assert words in shown, words


def test_an_empty_quote_says_what_to_do_first(quote: Quote, owner_client: Browser) -> None:
    quote.pieces.all().delete()

    shown = page(owner_client, "quote_detail", quote.pk)

    assert "No pieces yet" in shown
    assert checks.NOTHING_ON_IT in shown
    assert shown.count(reverse("piece_new", args=[quote.pk])) == 1
    assert reverse("quote_send", args=[quote.pk]) not in shown
    assert "$" not in shown  # the minimum order for nothing is no price


def test_what_stands_in_the_way_is_beside_what_is_wrong(
    quote: Quote, owner_client: Browser
) -> None:
    bad = PieceFactory(quote=quote, title="Not described", spec=None)

    shown = page(owner_client, "quote_detail", quote.pk)

    piece = shown[shown.index(f'id="piece-{bad.pk}"') :]
    assert "This piece is not described yet" in piece[: piece.index("</article>")]


def test_a_price_without_travel_says_so(quote: Quote, owner_client: Browser) -> None:
    assert NO_DISTANCE.split(".")[0] in page(owner_client, "quote_detail", quote.pk)

    quote.job.site = None
    quote.job.save()
    assert NO_PLACE in page(owner_client, "quote_detail", quote.pk)


def test_cautions_are_said_in_the_businesss_units(quote: Quote, owner_client: Browser) -> None:
    piece = quote.pieces.get()
    piece.spec = {**arch_spec(), "site": {"outdoor": True, "height_m": 3.0, "gust_mps": 20}}
    piece.save()

    shown = page(owner_client, "quote_detail", quote.pk)

    assert "<strong>Stop:</strong>" in shown
    assert "mph" in shown
    assert "m/s" not in shown


def test_a_newer_rate_card_is_offered_and_taken(quote: Quote, owner_client: Browser) -> None:
    newer = RateCardFactory(version=2, starts_on=date(2026, 6, 1))
    assert "Use rate card 2" in page(owner_client, "quote_detail", quote.pk)

    owner_client.post(reverse("quote_current_rates", args=[quote.pk]))

    quote.refresh_from_db()
    assert quote.rate_card == newer
    assert "Use rate card" not in page(owner_client, "quote_detail", quote.pk)


def test_hostile_names_are_text(quote: Quote, owner_client: Browser) -> None:
    hostile = "<script>alert(1)</script>"
    quote.pieces.update(title=hostile)
    ExtraLineFactory(quote=quote, label=hostile)
    quote.job.title = hostile
    quote.job.save()

    for name in ("quote_detail", "quote_send"):
        assert hostile not in page(owner_client, name, quote.pk)


# ---- On the job's page ----


def test_a_jobs_page_lists_its_quotes_as_they_are_now(quote: Quote, owner_client: Browser) -> None:
    shown = page(owner_client, "job_detail", quote.job.pk)
    assert "LL-1042" in shown
    assert "Garland over the door" in shown
    assert "Draft" in shown

    edition = sent(quote)
    shown = page(owner_client, "job_detail", quote.job.pk)
    assert "Sent, edition 1" in shown
    assert f"${edition.total_cents / 100:.2f}" in shown

    Job.objects.update(event_on=date(2026, 6, 20) + timedelta(days=7))
    assert "Changed since edition 1" in page(owner_client, "job_detail", quote.job.pk)


def test_a_job_without_quotes_can_start_one(business: Business, owner_client: Browser) -> None:
    job = JobFactory()

    shown = page(owner_client, "job_detail", job.pk)

    assert "No quote yet" in shown
    assert shown.count(reverse("quote_new", args=[job.pk])) == 1


def test_the_quote_remembers_its_stage_for_lists(quote: Quote, owner_client: Browser) -> None:
    sent(quote)
    typed = {"label": "Sign", "quantity": "1", "unit_cents": "15"}

    owner_client.post(reverse("quote_line_new", args=[quote.pk]), typed)

    quote.refresh_from_db()
    assert quote.stage == QuoteStage.CHANGED
    assert RateCard.objects.count() == 1
