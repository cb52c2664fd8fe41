"""The demo's shelf: bags of every item, some part-used, one lot old and one lot bad."""

from datetime import UTC, datetime, timedelta

import pytest
from django.utils import timezone

from inventory.bags.age import best_before
from inventory.catalogue.service import ON_OFFER
from inventory.ledger.reading import bag_problems
from inventory.losses.service import losses
from inventory.models import Bag, Delivery, Item, LedgerLine, Supplier, SupplierBag
from inventory.shelf.listing import shelf_items
from quoting.demo import make
from quoting.demo.shelf import BAD_LOT

NOW = datetime(2026, 11, 25, 15, 0, tzinfo=UTC)
SHELF = (Supplier, SupplierBag, Delivery, Bag, LedgerLine)


@pytest.fixture
def demo(db):
    return make.demo_make(password="six-oat-balloons", now=NOW)


def rows() -> dict[str, list]:
    return {model.__name__: list(model.objects.order_by("pk").values()) for model in SHELF}


def test_every_kind_of_bag_is_on_it_and_making_it_again_changes_nothing(demo):
    shown = shelf_items(best=best_before(today=timezone.localdate(NOW)))
    assert {each.item for each in shown if each.left} == set(Item.objects.filter(ON_OFFER))
    assert [str(each.item) for each in shown if each.past_best] == ["Cockle 5-inch", "Plum 11-inch"]
    assert Bag.objects.filter(is_open=True, left__gt=0).count() > 5
    assert [lot.lot for each in losses() for lot in each.worse_lots] == [BAD_LOT]
    assert bag_problems() == []

    before = rows()
    make.demo_make(password="six-oat-balloons", now=NOW + timedelta(days=30))
    assert rows() == before
