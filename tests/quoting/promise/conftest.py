import pytest

from decor.models import Business
from inventory.catalogue.starter import add_starter_catalogue
from quoting.client_page.links import link_make
from quoting.models import ClientLink, Edition, Quote
from tests.factories import JobFactory, PieceFactory, QuoteFactory
from tests.quoting.covering.conftest import stock
from tests.quoting.promise.sending import NOW, sent


@pytest.fixture
def quote(business: Business) -> Quote:
    """Sent nowhere yet; everything it takes is on the shelf."""
    add_starter_catalogue()
    stock()
    quote = QuoteFactory(number="LL-1042", job=JobFactory(stage="quoted"))
    PieceFactory(quote=quote)
    return quote


@pytest.fixture
def edition(quote: Quote) -> Edition:
    return sent(quote)


@pytest.fixture
def link(quote: Quote) -> ClientLink:
    return link_make(quote=quote, by=None, now=NOW)[0]
