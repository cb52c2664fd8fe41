import pytest

from inventory.deliveries.forms import row_reader
from inventory.deliveries.rows import RowReader
from inventory.models import Item, Supplier
from tests.factories import ColourFactory, ItemFactory, SundryFactory, SupplierFactory


@pytest.fixture
def items(db: None) -> dict[str, Item]:
    made = [
        ItemFactory(colour=ColourFactory(key=key), nominal_in=size)
        for key in ("fern", "plum")
        for size in (5, 11)
    ]
    made += [SundryFactory(), SundryFactory(name="curling ribbon", unit="m", bag_count=100)]
    return {str(item): item for item in made}


@pytest.fixture
def supplier(db: None) -> Supplier:
    return SupplierFactory()


@pytest.fixture
def reader(items: dict[str, Item], supplier: Supplier) -> RowReader:
    return row_reader(supplier.pk)
