from datetime import UTC, date, datetime, timedelta

import pytest

from inventory.models import Item, Supplier
from inventory.models.hold import Hold
from tests.factories import ColourFactory, ItemFactory, JobFactory, SupplierFactory

NOW = datetime(2026, 6, 13, 12, tzinfo=UTC)


@pytest.fixture
def fern(db: None) -> Item:
    return ItemFactory()


@pytest.fixture
def oat(db: None) -> Item:
    return ItemFactory(colour=ColourFactory(key="oat"))


@pytest.fixture
def quay(db: None) -> Supplier:
    """Five days, 40 at least, 8.95 for delivery."""
    return SupplierFactory()


@pytest.fixture
def market(db: None) -> Supplier:
    """The next day, without terms."""
    return SupplierFactory(
        name="Market Square", lead_days=1, smallest_order_cents=0, delivery_cents=0
    )


@pytest.fixture
def held(today: date):
    """A job's hold of an item, so many days from today."""

    def hold(item: Item, quantity: int, *, in_days: int = 20, **given: object) -> Hold:
        job = given.pop("job", None) or JobFactory()
        return Hold.objects.create(
            job=job,
            item=item,
            quantity=quantity,
            needed_on=today + timedelta(days=in_days),
            placed_at=NOW,
            **given,
        )

    return hold
