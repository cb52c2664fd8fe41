import uuid
from datetime import timedelta

import pytest

from inventory.buying import orders as orders_module
from inventory.buying.orders import (
    Came,
    OrderRefused,
    OrderRow,
    order_call_off,
    order_expect,
    order_place,
    order_receive,
    orders_listed,
)
from inventory.deliveries.service import EnteredBefore
from inventory.free.service import free_on
from inventory.models import Bag, Delivery, Order
from inventory.models.order import OrderState
from tests.inventory.buying.conftest import NOW


@pytest.fixture
def place(quay, fern, oat, today):
    def place_(*rows: OrderRow, **given) -> Order:
        said = {
            "supplier": quay,
            "rows": rows or [OrderRow(fern, 50, 3, 850), OrderRow(oat, 100, 1, 1450)],
            "ordered_on": today,
            "expected_on": today + timedelta(days=5),
            "delivery_cents": 895,
            "by": None,
        }
        return order_place(**{**said, **given})

    return place_


@pytest.fixture
def receive(today):
    def receive_(order: Order, *bags: int, **given):
        came = [
            Came(line, many, "B7", "Cupboard")
            for line, many in zip(order.lines.order_by("pk"), bags, strict=True)
        ]
        said = {"note_number": "N-1", "received_on": today, "by": None, "now": NOW}
        return order_receive(order=order, came=came, **{**said, **given})

    return receive_


def test_what_is_ordered_counts_as_arriving(place, fern, today):
    place()
    free = free_on(on=today + timedelta(days=6), today=today)[fern.pk]
    assert (free.arriving, free.free) == (150, 150)


def test_two_rows_of_equal_bags_are_one_line(place, fern):
    order = place(OrderRow(fern, 50, 1, 850), OrderRow(fern, 50, 2, 800))
    (line,) = order.lines.all()
    assert (line.bags, line.bag_cents) == (3, 800)


def test_a_form_sent_twice_is_ordered_once(place):
    key = uuid.uuid4()
    assert place(entry_key=key) == place(entry_key=key)
    assert Order.objects.count() == 1


def test_nothing_cannot_be_ordered(place):
    with pytest.raises(OrderRefused, match="Nothing is ordered"):
        place(rows=[])


def test_it_cannot_come_before_it_is_ordered(place, today):
    with pytest.raises(OrderRefused, match="cannot come before"):
        place(expected_on=today - timedelta(days=1))


def test_a_part_comes_and_the_rest_is_still_expected(place, receive, fern, today):
    order = place()
    delivery = receive(order, 2, 0)
    assert order.state == OrderState.ORDERED
    assert delivery.order == order
    bags = Bag.objects.all()
    assert [(b.item, b.left, b.lot, b.place, b.cost_cents) for b in bags] == [
        (fern, 50, "B7", "Cupboard", 850)
    ] * 2
    free = free_on(on=today + timedelta(days=6), today=today)[fern.pk]
    assert (free.shelf, free.arriving) == (100, 50)


def test_when_all_has_come_it_is_received(place, receive):
    order = place()
    receive(order, 2, 1)
    receive(order, 1, 0, note_number="N-2")
    assert order.state == OrderState.RECEIVED
    assert Bag.objects.count() == 4
    with pytest.raises(OrderRefused, match="received already"):
        receive(order, 1, 0)


def test_more_than_was_ordered_is_refused_and_nothing_is_written(place, receive):
    order = place()
    with pytest.raises(OrderRefused, match="only 3 of these bags"):
        receive(order, 4, 1)
    assert not Bag.objects.exists()
    assert not Delivery.objects.exists()


def test_a_delivery_entered_before_changes_nothing(place, receive):
    order = place()
    receive(order, 1, 0)
    with pytest.raises(EnteredBefore):
        receive(order, 1, 0)
    assert Bag.objects.count() == 1
    assert order.lines.get(item__colour__key="fern").received_bags == 1


def test_nothing_came_is_refused(place, receive):
    with pytest.raises(OrderRefused, match="Nothing came"):
        receive(place(), 0, 0)


def test_called_off_nothing_more_is_expected(place, receive, fern, today):
    order = place()
    receive(order, 1, 0)
    order_call_off(order=order)
    free = free_on(on=today + timedelta(days=6), today=today)[fern.pk]
    assert (order.state, free.shelf, free.arriving) == (OrderState.CALLED_OFF, 50, 0)
    with pytest.raises(OrderRefused, match="called off already"):
        order_call_off(order=order)


def test_it_can_be_put_off(place, today):
    order = place()
    order_expect(order=order, expected_on=today + timedelta(days=9))
    assert order.expected_on == today + timedelta(days=9)
    with pytest.raises(OrderRefused, match=orders_module.BEFORE_ORDERED):
        order_expect(order=order, expected_on=today - timedelta(days=9))


def test_the_list_says_what_an_order_costs_and_what_came_of_it(place, receive):
    order = place()
    receive(order, 2, 0)
    (listed,) = orders_listed(is_open=True)
    assert (listed.bags, listed.came, listed.cents) == (4, 2, 3 * 850 + 1450 + 895)
    assert not orders_listed(is_open=False).exists()
