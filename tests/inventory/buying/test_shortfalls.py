from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.buying.shortfalls import Dip, dip_of, shortfalls
from inventory.free.balance import Balance, Change
from inventory.models import Need
from inventory.models.hold import HoldState
from inventory.models.order import Order, OrderLine
from tests.factories import BagFactory, JobFactory
from tests.inventory.buying.conftest import NOW

DAY = date(2026, 6, 1)
FAR = date(2026, 12, 31)


def at(day: int, quantity: int) -> Change:
    return Change(on=DAY + timedelta(days=day), quantity=quantity, is_arrival=quantity > 0)


def on(day: int) -> date:
    return DAY + timedelta(days=day)


@pytest.mark.parametrize(
    ("shelf", "changes", "dip"),
    [
        (100, [], None),
        (100, [at(3, -100)], None),
        (100, [at(3, -101)], Dip(1, on(3), on(3))),
        (0, [at(3, -10), at(5, -20)], Dip(30, on(3), on(5))),
        (0, [at(3, -10), at(4, 50), at(6, -20)], Dip(10, on(3), on(3), late_on=on(4))),
        (0, [at(3, 50), at(3, -10)], Dip(10, on(3), on(3), late_on=on(3))),
        (0, [at(2, 50), at(3, -10)], None),
        (0, [at(9, -5), at(3, -10), at(4, 10)], Dip(10, on(3), on(3), late_on=on(4))),
        (0, [at(40, -5)], None),
    ],
)
def test_where_an_item_is_short(shelf, changes, dip):
    assert dip_of(Balance(shelf=shelf, changes=changes), until_on=on(30)) == dip


@given(
    shelf=st.integers(0, 50),
    changes=st.lists(st.tuples(st.integers(0, 40), st.integers(-40, 40).filter(bool))),
)
def test_so_much_more_on_the_shelf_and_nothing_is_short(shelf, changes):
    """And with one less it would be."""
    changes = [at(*change) for change in changes]
    dip = dip_of(Balance(shelf=shelf, changes=changes), until_on=on(30))
    if dip is not None:
        assert dip_of(Balance(shelf=shelf + dip.quantity, changes=changes), until_on=on(30)) is None
        assert dip_of(Balance(shelf=shelf + dip.quantity - 1, changes=changes), until_on=on(30))


def test_what_jobs_hold_less_what_is_on_the_shelf(fern, oat, held, today):
    BagFactory(item=fern)
    arch = held(fern, 80, in_days=10, state=HoldState.FIRM)
    swag = held(fern, 70, in_days=20, taken=10)
    held(fern, 500, in_days=15, state=HoldState.RELEASED)
    held(oat, 500, in_days=100)
    (short,) = shortfalls(until_on=today + timedelta(days=90), today=today)
    assert (short.item, short.quantity, short.needed_on) == (fern, 40, swag.needed_on)
    assert [(a.job, a.quantity, a.state) for a in short.asking] == [
        (arch.job, 80, "firm"),
        (swag.job, 60, "soft"),
    ]


def test_a_need_counts_until_the_job_holds_the_item(fern, held, today):
    job = JobFactory()
    day = today + timedelta(days=9)
    Need.objects.create(job=job, item=fern, quantity=30, needed_on=day, arrives_on=today, at=NOW)
    (short,) = shortfalls(until_on=FAR, today=today)
    assert (short.quantity, short.needed_on) == (30, day)
    assert short.asking[0].state == "not promised yet"
    held(fern, 25, job=job, in_days=9)
    (short,) = shortfalls(until_on=FAR, today=today)
    assert short.quantity == 25


def test_without_an_order_more_is_short(fern, quay, held, today):
    held(fern, 80)
    order = Order.objects.create(
        supplier=quay, ordered_on=today, expected_on=today + timedelta(days=5)
    )
    OrderLine.objects.create(
        order=order, item=fern, bag_count=50, bags=3, received_bags=1, bag_cents=850
    )
    assert shortfalls(until_on=FAR, today=today) == []
    (short,) = shortfalls(until_on=FAR, today=today, but_for=order)
    assert short.quantity == 80
