"""What the shelf puts on the owner's first page."""

from datetime import UTC, date, datetime, timedelta

import pytest
from django.urls import reverse

from decor.today.sources import Deed, lines_between
from inventory.holds.service import hold_soft
from inventory.models import Order, SupplierBag
from tests.factories import BagFactory, ItemFactory, JobFactory, SupplierFactory

NOW = datetime(2026, 6, 13, 16, 0, tzinfo=UTC)
TODAY = date(2026, 6, 13)
LAST = TODAY + timedelta(days=13)


@pytest.fixture
def fern(business):
    item = ItemFactory()
    BagFactory(item=item)
    return item


def hold(item, quantity: int, on: date):
    job = JobFactory(stage="promised", event_on=on + timedelta(days=1))
    hold_soft(
        job=job,
        demand={item.pk: quantity},
        needed_on=on,
        today=TODAY,
        now=NOW,
        may_be_short=[item.pk],
    )
    return job


def lines(*deeds: Deed):
    return [line for line in lines_between(TODAY, LAST) if line.kind in deeds]


def test_what_is_short_is_to_be_bought_by_the_day_the_buy_list_says(fern):
    SupplierBag.objects.create(
        supplier=SupplierFactory(lead_days=5), item=fern, bag_count=100, bag_cents=1650
    )
    hold(fern, 112, date(2026, 6, 24))
    (line,) = lines(Deed.BUY, Deed.SHELF)
    assert line.text == "12 Fern 11-inch from Quayside Balloon Supply"
    assert line.url == reverse("buy_list")
    # Needed on the 24th, five days to come, and the shelf's own days to spare before that.
    assert line.on < date(2026, 6, 24) - timedelta(days=5)
    assert not line.is_late


def test_what_can_no_longer_come_in_time_is_said_at_once(fern):
    SupplierBag.objects.create(
        supplier=SupplierFactory(name="Far Hills", lead_days=20),
        item=fern,
        bag_count=100,
        bag_cents=1650,
    )
    job = hold(fern, 112, date(2026, 6, 20))
    (line,) = lines(Deed.BUY, Deed.SHELF)
    assert line.kind == Deed.SHELF
    assert line.text == "12 Fern 11-inch for Saturday 20 June: ordered now they come too late"
    assert line.url == reverse("shelf_timeline", args=[fern.pk])
    assert (line.is_late, line.job) == (True, job)


def test_an_order_stands_on_its_day_and_is_late_after_it(fern):
    supplier = SupplierFactory()
    for expected in (date(2026, 6, 12), date(2026, 6, 15)):
        Order.objects.create(supplier=supplier, ordered_on=date(2026, 6, 8), expected_on=expected)
    late, coming = lines(Deed.RECEIVE)
    assert (late.is_late, coming.is_late) == (True, False)
    assert late.text == "Bags from Quayside Balloon Supply should have come"
    assert coming.on == date(2026, 6, 15)


def test_what_is_covered_is_no_work(fern):
    hold(fern, 100, date(2026, 6, 20))
    assert lines(Deed.BUY, Deed.SHELF, Deed.RECEIVE) == []
