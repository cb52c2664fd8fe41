"""A draft that nobody was sent can be discarded; what was sent cannot."""

import pytest
from django.test import Client as Browser
from django.urls import reverse

from quoting.models import Piece, Quote
from quoting.quotes.service import WAS_SENT, QuoteRefused, quote_discard
from tests.factories import ExtraLineFactory
from tests.quoting.quotes.browsing import page, sent

pytestmark = pytest.mark.usefixtures("noon")


def test_it_asks_first_and_says_what_goes(quote: Quote, owner_client: Browser) -> None:
    ExtraLineFactory(quote=quote, label="Hired oak backdrop")
    address = reverse("quote_discard", args=[quote.pk])
    assert address in page(owner_client, "quote_detail", quote.pk)

    asked = page(owner_client, "quote_discard", quote.pk)

    assert "Garland over the door, Hired oak backdrop" in asked
    assert Quote.objects.filter(pk=quote.pk).exists()

    answer = owner_client.post(address)
    assert answer.url == reverse("job_detail", args=[quote.job_id])
    assert not Quote.objects.filter(pk=quote.pk).exists()
    assert not Piece.objects.exists()


def test_what_was_sent_stays(quote: Quote, owner_client: Browser) -> None:
    sent(quote)
    address = reverse("quote_discard", args=[quote.pk])
    assert address not in page(owner_client, "quote_detail", quote.pk)

    for answer in (owner_client.get(address), owner_client.post(address)):
        assert answer.url == reverse("quote_detail", args=[quote.pk])
    with pytest.raises(QuoteRefused, match=WAS_SENT):
        quote_discard(quote=quote)

    assert quote.editions.count() == 1


def test_a_stranger_discards_nothing(quote: Quote, client: Browser) -> None:
    answer = client.post(reverse("quote_discard", args=[quote.pk]))

    assert answer.url.startswith(reverse("login"))
    assert Quote.objects.filter(pk=quote.pk).exists()
