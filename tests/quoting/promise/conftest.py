from datetime import datetime, timedelta

import pytest

from decor.calendar.visits import visit_plan
from decor.models import Business, Visit
from decor.models.visit import VisitKind
from inventory.catalogue.starter import add_starter_catalogue
from quoting.client_page.links import link_make
from quoting.models import ClientLink, Edition, Quote
from tests.factories import JobFactory, PieceFactory, QuoteFactory
from tests.quoting.covering.conftest import stock
from tests.quoting.promise.accepting import NEW_YORK
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


@pytest.fixture
def another_install(quote: Quote) -> Visit:
    """Promised to somebody else for the same morning."""
    job = JobFactory(title="Regatta arch", stage="promised")
    at = datetime(2026, 6, 20, 12, 0, tzinfo=NEW_YORK)
    return visit_plan(
        job=job, kind=VisitKind.INSTALL, starts_at=at, ends_at=at + timedelta(hours=1), now=NOW
    )
