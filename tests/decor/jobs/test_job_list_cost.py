"""A list costs the same number of questions to the database however long it is."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from decor.models import Client
from inventory.catalogue.starter import add_starter_catalogue
from tests.factories import ClientFactory, JobFactory, PieceFactory, QuoteFactory

MOST = 12


@pytest.fixture
def library(owner_client):
    add_starter_catalogue()
    return ClientFactory()


def add_jobs(count: int, **given: Client) -> None:
    """Each with a quote of two pieces, whose palette stands in the list."""
    for _ in range(count):
        quote = QuoteFactory(job=JobFactory(**given))
        PieceFactory(quote=quote)
        PieceFactory(quote=quote)


def queries_of(browser, address: str) -> int:
    with CaptureQueriesContext(connection) as asked:
        rows = browser.get(address).text.count('class="row-title"')
    assert rows >= 2
    return len(asked)


@pytest.mark.parametrize("page", ["job_list", "client_list", "client_detail"])
def test_a_longer_list_asks_no_more(owner_client, library, page):
    address = reverse(page, args=[library.pk] if page == "client_detail" else []) + "?when=all"
    given = {"client": library} if page == "client_detail" else {}
    add_jobs(2, **given)
    few = queries_of(owner_client, address)
    add_jobs(18, **given)
    assert queries_of(owner_client, address) == few
    assert few <= MOST


def test_the_list_shows_the_palette_of_each_job(owner_client, library):
    add_jobs(1, client=library)
    page = owner_client.get(reverse("job_list"), {"when": "all"}).text
    assert 'aria-label="Palette: Oat, Fern"' in page
