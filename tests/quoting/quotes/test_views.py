"""The pages of a quote: each opens, says what it should, and loses nothing that was typed."""

from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta

import pytest
import time_machine
from django.test import Client as Browser
from django.urls import reverse

from decor.models import Business, Job
from quoting.models import Edition, Quote, RateCard
from quoting.models.quote import DiscountKind, QuoteStage
from quoting.quotes import checks
from quoting.quotes.forms import DAY_HAS_GONE, SAY_HOW_MUCH, SAY_WHY
from quoting.quotes.page import NO_DISTANCE, NO_PLACE
from quoting.quotes.service import JOB_IS_ARCHIVED, quote_send
from tests.factories import (
    ExtraLineFactory,
    JobFactory,
    PieceFactory,
    RateCardFactory,
    arch_spec,
)

NOON = datetime(2026, 6, 13, 16, 0, tzinfo=UTC)


@pytest.fixture(autouse=True)
def noon() -> Iterator[None]:
    with time_machine.travel(NOON, tick=False):
        yield


def page(browser: Browser, name: str, *args: int) -> str:
    answer = browser.get(reverse(name, args=args))
    assert answer.status_code == 200, answer
    return answer.content.decode()


def sent(quote: Quote) -> Edition:
    return quote_send(quote=quote, by=None, now=NOON)


# ---- Who may see them ----


@pytest.mark.parametrize(
    "name", ["quote_detail", "quote_edit", "quote_discount", "quote_send", "quote_preview_pdf"]
)
def test_a_stranger_is_asked_to_log_in(quote: Quote, client: Browser, name: str) -> None:
    answer = client.get(reverse(name, args=[quote.pk]))

    assert answer.status_code == 302
    assert answer.url.startswith(reverse("login"))


def test_a_stranger_gets_no_edition(quote: Quote, client: Browser) -> None:
    sent(quote)

    answer = client.get(reverse("edition_pdf", args=[quote.pk, 1]))

    assert answer.url.startswith(reverse("login"))


@pytest.mark.parametrize(
    ("name", "more"),
    [
        ("quote_detail", []),
        ("quote_edit", []),
        ("quote_discount", []),
        ("quote_send", []),
        ("quote_preview_pdf", []),
        ("quote_edition", [1]),
        ("edition_pdf", [1]),
        ("quote_line_new", []),
        ("quote_line_edit", []),
        ("quote_line_remove", []),
    ],
)
def test_what_is_not_there_is_not_found(owner_client: Browser, name: str, more: list) -> None:
    assert owner_client.get(reverse(name, args=[4711, *more])).status_code == 404


def test_starting_and_changing_rates_are_not_done_by_looking(
    quote: Quote, owner_client: Browser
) -> None:
    for address in (
        reverse("quote_new", args=[quote.job.pk]),
        reverse("quote_current_rates", args=[quote.pk]),
    ):
        assert owner_client.get(address).status_code == 405


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


# ---- What it says ----

CONDITIONS = {
    "message": "It was good to see the porch.",
    "terms": "Be kind.",
    "expires_on": "2026-06-18",
    "is_outside_hours": "on",
}


def test_what_the_quote_says_is_edited(quote: Quote, owner_client: Browser) -> None:
    address = reverse("quote_edit", args=[quote.pk])
    assert "The day is kept for you" in page(owner_client, "quote_edit", quote.pk)

    answer = owner_client.post(address, CONDITIONS)

    assert answer.url == reverse("quote_detail", args=[quote.pk])
    quote.refresh_from_db()
    assert (quote.message, quote.terms) == ("It was good to see the porch.", "Be kind.")
    assert quote.expires_on == date(2026, 6, 18)
    assert quote.is_outside_hours
    assert not quote.includes_strike


@pytest.mark.parametrize(
    ("expires_on", "message"),
    [
        ("2026-06-12", DAY_HAS_GONE),
        ("2026-06-21", "A quote cannot run out after the event, on 20 June 2026."),
        ("", "This field is required."),
        ("soon", "Enter a valid date."),
    ],
)
def test_a_day_that_cannot_be_is_said_and_nothing_is_lost(
    quote: Quote, owner_client: Browser, expires_on: str, message: str
) -> None:
    typed = {**CONDITIONS, "expires_on": expires_on}

    answer = owner_client.post(reverse("quote_edit", args=[quote.pk]), typed)

    assert answer.status_code == 422
    shown = answer.content.decode()
    assert message in shown
    assert "It was good to see the porch." in shown
    assert "Be kind." in shown


# ---- Discount ----


def discount(browser: Browser, quote: Quote, **typed: str):
    return browser.post(reverse("quote_discount", args=[quote.pk]), typed)


def test_a_discount_is_given_changed_and_taken_back(quote: Quote, owner_client: Browser) -> None:
    discount(owner_client, quote, kind="percent", percent="12.5", reason="Second booking")
    quote.refresh_from_db()
    assert (quote.discount_kind, quote.discount_bp) == (DiscountKind.PERCENT, 1250)
    assert "Second booking (12.5 %)" in page(owner_client, "quote_detail", quote.pk)

    discount(owner_client, quote, kind="amount", percent="12.5", amount="20", reason="Friends")
    quote.refresh_from_db()
    assert (quote.discount_bp, quote.discount_cents) == (0, 2000)

    discount(owner_client, quote, kind="none", amount="20", reason="Friends")
    quote.refresh_from_db()
    assert (quote.discount_kind, quote.discount_cents, quote.discount_reason) == ("none", 0, "")


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ({"kind": "percent", "reason": "Friends"}, SAY_HOW_MUCH),
        ({"kind": "percent", "percent": "0", "reason": "Friends"}, SAY_HOW_MUCH),
        ({"kind": "amount", "reason": "Friends"}, SAY_HOW_MUCH),
        ({"kind": "amount", "amount": "20"}, SAY_WHY),
        ({"kind": "percent", "percent": "101", "reason": "a"}, "Between 0 % and 100 %, please."),
        ({"kind": "percent", "percent": "NaN", "reason": "a"}, "Write a per cent such as 8.25."),
        ({"kind": "amount", "amount": "-5", "reason": "a"}, "Between $0.00 and"),
        ({"kind": "half", "reason": "a"}, "Select a valid choice."),
    ],
)
def test_a_discount_that_cannot_be_is_said(
    quote: Quote, owner_client: Browser, typed: dict[str, str], message: str
) -> None:
    answer = discount(owner_client, quote, **typed)

    assert answer.status_code == 422
    assert message in answer.content.decode()
    quote.refresh_from_db()
    assert quote.discount_kind == DiscountKind.NONE


# ---- Extra lines ----


def test_an_extra_line_is_added_edited_and_taken_off(quote: Quote, owner_client: Browser) -> None:
    typed = {"label": "Hired oak backdrop", "quantity": "2", "unit_cents": "65"}
    owner_client.post(reverse("quote_line_new", args=[quote.pk]), typed)
    line = quote.extra_lines.get()
    assert (line.label, line.quantity, line.unit_cents) == ("Hired oak backdrop", 2, 6500)

    edit = reverse("quote_line_edit", args=[line.pk])
    assert "Hired oak backdrop" in owner_client.get(edit).content.decode()
    owner_client.post(edit, {**typed, "unit_cents": "70.50"})
    line.refresh_from_db()
    assert line.unit_cents == 7050

    remove = reverse("quote_line_remove", args=[line.pk])
    assert "Take this line off the quote?" in owner_client.get(remove).content.decode()
    assert quote.extra_lines.exists()
    owner_client.post(remove)
    assert not quote.extra_lines.exists()


@pytest.mark.parametrize(
    ("wrong", "message"),
    [
        ({"label": ""}, "Say what it is."),
        ({"label": "a" * 121}, "at most 120 characters"),
        ({"quantity": "0"}, "At least 1, please."),
        ({"quantity": "1001"}, "At most 1000, please."),
        ({"quantity": "2.5"}, "Write a whole number such as 2."),
        ({"unit_cents": ""}, "Say what one costs the client."),
        ({"unit_cents": "-1"}, "Between $0.00 and"),
        ({"unit_cents": "12.345"}, "Write an amount such as 12.50."),
        ({"unit_cents": "Infinity"}, "Write an amount such as 12.50."),
    ],
)
def test_a_line_that_cannot_be_is_said_and_kept_as_typed(
    quote: Quote, owner_client: Browser, wrong: dict[str, str], message: str
) -> None:
    typed = {"label": "Sign", "quantity": "3", "unit_cents": "17.25", **wrong}

    answer = owner_client.post(reverse("quote_line_new", args=[quote.pk]), typed)

    assert answer.status_code == 422
    shown = answer.content.decode()
    assert message in shown
    assert all(f'value="{value}"' in shown for value in typed.values() if value)
    assert not quote.extra_lines.exists()


# ---- Sending ----


def test_looking_it_over_shows_what_the_client_reads_and_sends_nothing(
    quote: Quote, owner_client: Browser
) -> None:
    quote.message = "It was good to see the porch."
    quote.save()

    shown = page(owner_client, "quote_send", quote.pk)

    assert "What Wexcombe Bay Library will read" in shown
    assert "It was good to see the porch." in shown
    assert "Mark as sent and get the PDF" in shown
    assert not quote.editions.exists()


def test_sending_leads_to_the_edition_its_pdf_and_words_to_send(
    quote: Quote, owner_client: Browser
) -> None:
    answer = owner_client.post(reverse("quote_send", args=[quote.pk]), follow=True)

    edition = quote.editions.get()
    shown = answer.content.decode()
    assert edition.sent_by.username == "nell"
    assert edition.pdf_sha256 in shown
    assert reverse("edition_pdf", args=[quote.pk, 1]) in shown
    assert "Here is my quote LL-1042 for Reading-week arch." in shown
    assert "Friday 19 June 2026" in shown

    pdf = owner_client.get(reverse("edition_pdf", args=[quote.pk, 1]))
    assert pdf.content == bytes(edition.pdf)
    assert pdf["Content-Type"] == "application/pdf"
    assert pdf["X-Content-Type-Options"] == "nosniff"
    assert 'filename="LL-1042-edition-1.pdf"' in pdf["Content-Disposition"]


def test_what_cannot_be_sent_offers_no_button_and_says_where_to_mend(
    quote: Quote, owner_client: Browser
) -> None:
    quote.job.event_on = None
    quote.job.save()

    shown = page(owner_client, "quote_send", quote.pk)
    assert checks.NO_EVENT_DATE in shown
    assert reverse("job_edit", args=[quote.job.pk]) in shown
    assert "Mark as sent" not in shown

    answer = owner_client.post(reverse("quote_send", args=[quote.pk]), follow=True)
    assert checks.NO_EVENT_DATE in answer.content.decode()
    assert not quote.editions.exists()


def test_pressing_send_twice_makes_one_edition(quote: Quote, owner_client: Browser) -> None:
    address = reverse("quote_send", args=[quote.pk])
    owner_client.post(address)

    answer = owner_client.post(address, follow=True)

    assert "Nothing has changed since edition 1 was sent." in answer.content.decode()
    assert quote.editions.count() == 1


def test_after_a_change_the_page_says_what_changed_and_offers_the_next_edition(
    quote: Quote, owner_client: Browser
) -> None:
    sent(quote)
    assert "Sent, edition 1" in page(owner_client, "quote_detail", quote.pk)

    ExtraLineFactory(quote=quote, label="Sign", unit_cents=1500)
    shown = page(owner_client, "quote_detail", quote.pk)

    assert "Changed since edition 1" in shown
    assert "Added: Sign, $15.00" in shown
    assert "Send edition 2" in shown


def test_an_older_edition_stays_to_be_read(quote: Quote, owner_client: Browser) -> None:
    sent(quote)
    ExtraLineFactory(quote=quote)
    sent(quote)

    assert "Replaced by a later one" in page(owner_client, "quote_edition", quote.pk, 1)
    later = page(owner_client, "quote_edition", quote.pk, 2)
    assert "Replaced" not in later
    assert "Added: Hired oak backdrop" in later


def test_the_preview_is_a_pdf_and_keeps_nothing(quote: Quote, owner_client: Browser) -> None:
    answer = owner_client.get(reverse("quote_preview_pdf", args=[quote.pk]))

    assert answer.content.startswith(b"%PDF")
    assert not Edition.objects.exists()


def test_a_preview_that_cannot_be_made_says_why(quote: Quote, owner_client: Browser) -> None:
    quote.pieces.all().delete()

    answer = owner_client.get(reverse("quote_preview_pdf", args=[quote.pk]), follow=True)

    assert checks.NOTHING_ON_IT in answer.content.decode()


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
