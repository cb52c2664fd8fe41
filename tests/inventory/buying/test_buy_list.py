from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from inventory.buying.orders import Came, OrderRow, order_place, order_receive
from inventory.buying.service import buy_list
from inventory.buying.shortfalls import shortfalls
from inventory.buying.when import Urgency
from inventory.models import Hold, ShelfSettings, SupplierBag
from tests.factories import BagFactory, ColourFactory, ItemFactory, JobFactory, SupplierFactory
from tests.inventory.buying.conftest import NOW


@pytest.fixture
def listed(today):
    def list_(days: int = 90):
        return buy_list(until_on=today + timedelta(days=days), today=today)

    return list_


def offer(supplier, item, count, cents):
    return SupplierBag.objects.create(
        supplier=supplier, item=item, bag_count=count, bag_cents=cents
    )


def test_nothing_is_bought_when_nothing_is_short(fern, held, listed):
    BagFactory(item=fern)
    held(fern, 100)
    assert listed().orders == ()
    assert listed().cents == 0


def test_it_is_bought_in_whole_bags_with_what_is_left_over(fern, market, held, listed):
    for count, cents in ((25, 475), (50, 850), (100, 1450)):
        offer(market, fern, count, cents)
    held(fern, 51)
    (order,) = listed().orders
    (line,) = order.lines
    assert order.supplier == market
    assert [(b.bag_count, b.bags, b.bag_cents) for b in line.bags] == [(25, 1, 475), (50, 1, 850)]
    assert (line.cents, line.left_over, order.cents) == (1325, 24, 1325)


def test_a_delivery_charge_and_a_smallest_order_are_in_it(fern, quay, held, listed):
    offer(quay, fern, 100, 1450)
    held(fern, 80)
    (order,) = listed().orders
    assert order.lines[0].bags[0].bags == 3
    assert order.is_raised
    assert (order.bags_cents, order.delivery_cents, order.cents) == (4350, 895, 5245)


def test_only_jobs_up_to_the_day_count(fern, held, listed):
    held(fern, 80, in_days=40)
    assert listed(39).orders == ()
    assert len(listed(40).orders) == 1


def test_who_brings_it_in_time_is_taken_before_who_is_cheaper(fern, quay, market, held, listed):
    offer(quay, fern, 100, 50)
    offer(market, fern, 100, 5000)
    held(fern, 80, in_days=5)
    (order,) = listed().orders
    assert order.supplier == market
    assert order.when.urgency == Urgency.TODAY or order.when.urgency == Urgency.LATER


def test_where_nobody_can_be_in_time_the_quickest_is_taken_and_it_is_said(
    fern, quay, held, listed, today
):
    offer(quay, fern, 100, 50)
    slow = SupplierFactory(name="Slow", lead_days=30)
    offer(slow, fern, 100, 5)
    held(fern, 80, in_days=3)
    (order,) = listed().orders
    assert order.supplier == quay
    assert order.when.urgency == Urgency.TOO_LATE


def test_without_a_supplier_it_is_the_usual_bag(fern, held, listed):
    held(fern, 120)
    (order,) = listed().orders
    assert order.supplier is None
    assert [(b.bag_count, b.bags, b.bag_cents) for b in order.lines[0].bags] == [(100, 2, 1650)]
    assert order.when.urgency == Urgency.NO_SUPPLIER


def test_an_archived_supplier_is_not_asked(fern, market, held, listed):
    offer(market, fern, 100, 1450)
    held(fern, 80)
    market.archived_at = NOW
    market.save()
    assert listed().orders[0].supplier is None


def test_the_most_urgent_is_first(fern, oat, quay, market, held, listed):
    offer(quay, fern, 100, 5000)
    offer(market, oat, 100, 1450)
    held(fern, 80, in_days=60)
    held(oat, 80, in_days=10)
    assert [order.supplier for order in listed().orders] == [market, quay]


def test_the_owner_sets_the_days_to_spare(fern, market, held, listed, today):
    offer(market, fern, 100, 1450)
    held(fern, 80, in_days=20)
    assert listed().orders[0].when.order_by == today + timedelta(days=17)
    ShelfSettings.objects.create(pk=ShelfSettings.THE_ONE, days_to_spare=7)
    assert listed().orders[0].when.order_by == today + timedelta(days=12)


def test_as_many_questions_however_much_is_short(quay, market, held, listed):
    def more(keys):
        for key in keys:
            item = ItemFactory(colour=ColourFactory(key=key))
            offer(quay, item, 100, 1450)
            offer(market, item, 50, 900)
            held(item, 80)
            held(item, 30, in_days=30)

    def asked():
        with CaptureQueriesContext(connection) as queries:
            listed()
        return len(queries)

    more(["fern"])
    few = asked()
    more(["oat", "plum", "marigold", "copper"])
    assert asked() == few
    assert few <= 10


@settings(max_examples=25, suppress_health_check=list(HealthCheck))
@given(
    wants=st.lists(st.tuples(st.integers(0, 2), st.integers(1, 150), st.integers(1, 80))),
    offers=st.lists(
        st.tuples(
            st.integers(0, 2), st.integers(0, 1), st.sampled_from([10, 25, 50, 100]),
            st.integers(100, 2000),
        ),
        unique_by=lambda o: o[:3],
    ),
)  # fmt: skip
def test_once_it_is_ordered_and_has_come_nothing_is_short(db, today, wants, offers):
    from django.db import transaction

    with transaction.atomic():
        _buy_everything(today, wants, offers)
        transaction.set_rollback(True)


def _buy_everything(today, wants, offers):
    items = [ItemFactory(colour=ColourFactory(key=key)) for key in ("fern", "oat", "plum")]
    suppliers = [SupplierFactory(), SupplierFactory(name="Market", lead_days=1, delivery_cents=0)]
    for item, supplier, count, cents in offers:
        offer(suppliers[supplier], items[item], count, cents)
    for item, quantity, days in wants:
        Hold.objects.create(
            job=JobFactory(),
            item=items[item],
            quantity=quantity,
            needed_on=today + timedelta(days=days),
            placed_at=NOW,
        )
    until = today + timedelta(days=90)
    bought = buy_list(until_on=until, today=today)
    assert bool(bought.orders) == bool(shortfalls(until_on=until, today=today))
    for order in bought.orders:
        placed = order_place(
            supplier=order.supplier or suppliers[0],
            rows=[
                OrderRow(line.shortfall.item, b.bag_count, b.bags, b.bag_cents)
                for line in order.lines
                for b in line.bags
            ],
            ordered_on=today,
            expected_on=today,
            delivery_cents=order.delivery_cents,
            by=None,
        )
        came = [Came(line, line.bags) for line in placed.lines.all()]
        order_receive(order=placed, came=came, note_number="", received_on=today, by=None, now=NOW)
    assert shortfalls(until_on=until, today=today) == []
