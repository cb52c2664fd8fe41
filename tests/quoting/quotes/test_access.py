"""Who may see a quote's pages, and what asks for them must be."""

import pytest
from django.test import Client as Browser
from django.urls import reverse

from quoting.models import Quote
from tests.quoting.quotes.browsing import sent

pytestmark = pytest.mark.usefixtures("noon")


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
