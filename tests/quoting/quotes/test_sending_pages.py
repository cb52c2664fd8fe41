"""Looking a quote over, sending it, and the page of what was sent."""

import pytest
from django.test import Client as Browser
from django.urls import reverse

from quoting.models import Edition, Quote
from quoting.quotes import checks
from tests.factories import (
    ExtraLineFactory,
)
from tests.quoting.quotes.browsing import page, sent

pytestmark = pytest.mark.usefixtures("noon")


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


def test_sending_leads_to_the_edition_its_pdf_and_its_letter(
    quote: Quote, owner_client: Browser
) -> None:
    answer = owner_client.post(reverse("quote_send", args=[quote.pk]), follow=True)

    edition = quote.editions.get()
    shown = answer.content.decode()
    assert edition.sent_by.username == "nell"
    assert edition.pdf_sha256 in shown
    assert reverse("edition_pdf", args=[quote.pk, 1]) in shown
    assert reverse("letter_new", args=[quote.job_id, "quote"]) in shown
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
