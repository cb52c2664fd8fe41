import pytest

from decor.models import Business
from inventory.catalogue.starter import add_starter_catalogue
from quoting.models import Quote
from tests.factories import PieceFactory, QuoteFactory


@pytest.fixture
def catalogue(db: None) -> None:
    add_starter_catalogue()


@pytest.fixture
def quote(business: Business, catalogue: None) -> Quote:
    """A draft with one piece, for a job a week after `today`."""
    quote = QuoteFactory(number="LL-1042")
    PieceFactory(quote=quote)
    return quote
