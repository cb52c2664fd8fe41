from datetime import UTC, date, datetime

import pytest

from decor.models import Job
from decor.models.business import Business
from decor.models.job import Stage
from inventory.catalogue.starter import add_starter_catalogue
from inventory.holds.taking import balloons_lose_taken, balloons_take
from inventory.models import Bag, Item
from quoting.making.working import work_type
from tests.factories import BagFactory, JobFactory, PieceFactory, QuoteFactory

NOW = datetime(2026, 6, 21, 15, 0, tzinfo=UTC)
DAY = date(2026, 6, 19)


@pytest.fixture
def job(business: Business) -> Job:
    """An arch that hung yesterday."""
    add_starter_catalogue()
    quote = QuoteFactory(job=JobFactory(stage=Stage.UP))
    PieceFactory(quote=quote)
    return quote.job


def used(job: Job, colour: str, size: int, *, quantity: int, lost: int = 0) -> Bag:
    """Out of one bag of 100 that cost 15.00."""
    item = Item.objects.get(colour__key=colour, nominal_in=size)
    bag = BagFactory(item=item, printed_count=100, cost_cents=1500, lot="K7", place="Box 2")
    balloons_take(bag=bag, quantity=quantity, job=job, by=None, now=NOW)
    if lost:
        balloons_lose_taken(bag=bag, quantity=lost, reason="popped", job=job, by=None, now=NOW)
    return bag


def worked(job: Job, phase: str, *, minutes: int, people: int = 1) -> None:
    work_type(job=job, phase=phase, on=DAY, minutes=minutes, people=people, by=None)
