from datetime import UTC, date, datetime

import pytest

from decor.models import Business
from inventory.catalogue.starter import add_starter_catalogue
from inventory.ledger.service import bags_receive
from inventory.models import Bag, Item
from quoting.models import Quote
from tests.factories import JobFactory, PieceFactory, QuoteFactory

NOW = datetime(2026, 6, 13, 15, 0, tzinfo=UTC)


def stock(bags: int = 5, **which: object) -> None:
    """So many of the usual bags of every item, or of those that are named."""
    bags_receive(
        bags=[
            Bag(
                item=item,
                received_on=date(2026, 4, 2),
                cost_cents=item.bag_cents,
                printed_count=item.bag_count,
            )
            for item in Item.objects.filter(**which)
            for _ in range(bags)
        ],
        by=None,
        now=NOW,
    )


@pytest.fixture
def catalogue(db: None) -> None:
    add_starter_catalogue()


@pytest.fixture
def quote(business: Business, catalogue: None) -> Quote:
    """An arch in oat and fern for a job a week after `today`, to be made the day before."""
    quote = QuoteFactory(number="LL-1042", job=JobFactory(stage="quoted"))
    PieceFactory(quote=quote)
    return quote


@pytest.fixture
def other_quote(quote: Quote) -> Quote:
    """The same arch for another client, a day later."""
    job = JobFactory(stage="quoted", title="Regatta arch", event_on=date(2026, 6, 21))
    other = QuoteFactory(number="LL-1043", job=job, rate_card=quote.rate_card)
    PieceFactory(quote=other)
    return other
