from collections.abc import Iterator

import pytest
import time_machine

from decor.models import Business
from inventory.catalogue.starter import add_starter_catalogue
from quoting.models import Quote
from tests.factories import PieceFactory, QuoteFactory, arch_spec
from tests.quoting.quotes.browsing import NOON


@pytest.fixture
def catalogue(db: None) -> None:
    add_starter_catalogue()


@pytest.fixture
def quote(business: Business, catalogue: None) -> Quote:
    """A draft with one piece, for a job a week after `today`."""
    quote = QuoteFactory(number="LL-1042")
    PieceFactory(quote=quote)
    return quote


@pytest.fixture
def large_quote(quote: Quote) -> Quote:
    """Its piece costs more than a minimum order, so that any change of it shows in the price."""
    piece = quote.pieces.get()
    piece.spec = arch_spec(width_m=6.0, height_m=3.0)
    piece.save()
    return quote


@pytest.fixture
def noon() -> Iterator[None]:
    with time_machine.travel(NOON, tick=False):
        yield
