"""A delivery is entered once and whole."""

import uuid
from datetime import UTC, date, datetime

import pytest
from django.db import DatabaseError, transaction

from inventory.deliveries.rows import DeliveryRow
from inventory.deliveries.service import (
    DeliveryRefused,
    EnteredBefore,
    deliveries_listed,
    delivery_receive,
)
from inventory.ledger.reading import bag_problems
from inventory.models import Bag, Delivery, LedgerLine, Supplier, SupplierBag
from tests.factories import SupplierFactory

NOW = datetime(2026, 6, 13, 15, 0, tzinfo=UTC)
CAME_ON = date(2026, 6, 12)


@pytest.fixture
def fern(items):
    return items["Fern 11-inch"]


def receive(supplier: Supplier, rows: list[DeliveryRow], note: str = "N-7", **given) -> Delivery:
    return delivery_receive(
        supplier=supplier,
        note_number=note,
        received_on=CAME_ON,
        rows=rows,
        by=None,
        now=NOW,
        **given,
    )


def row(item, **given) -> DeliveryRow:
    return DeliveryRow(item=item, **{"printed_count": 100, "cost_cents": 1650, **given})


def test_every_bag_is_on_the_shelf_full_with_its_line(supplier, items, fern):
    plum = items["Plum 5-inch"]
    rows = [
        row(fern, bags=3, lot="B2", place="Cupboard"),
        row(plum, printed_count=50, cost_cents=800, note="torn"),
    ]

    delivery = receive(supplier, rows)

    bags = delivery.bags.order_by("pk")
    assert [(b.item, b.lot, b.left, b.printed_count, b.cost_cents, b.place) for b in bags] == [
        *[(fern, "B2", 100, 100, 1650, "Cupboard")] * 3,
        (plum, "", 50, 50, 800, ""),
    ]
    assert {bag.received_on for bag in bags} == {CAME_ON}
    assert len({bag.tag for bag in bags}) == 4
    assert bag_problems() == []


@pytest.mark.parametrize("note", ["N-7", "n-7", "  N-7 "])
def test_the_same_note_of_the_same_supplier_is_refused(supplier, fern, note):
    first = receive(supplier, [row(fern)])

    with pytest.raises(EnteredBefore, match="entered before, as received on 12 June 2026") as told:
        receive(supplier, [row(fern)], note)

    assert told.value.delivery == first
    assert Bag.objects.count() == 1


def test_the_same_number_of_another_supplier_is_another_delivery(supplier, fern):
    receive(supplier, [row(fern)])
    receive(SupplierFactory(name="Millbrook Party Wholesale"), [row(fern)])
    assert Bag.objects.count() == 2


def test_deliveries_without_a_note_are_told_apart_by_their_forms(supplier, fern):
    key = uuid.uuid4()
    receive(supplier, [row(fern)], "", entry_key=key)
    receive(supplier, [row(fern)], "", entry_key=uuid.uuid4())
    with pytest.raises(EnteredBefore):
        receive(supplier, [row(fern)], "", entry_key=key)
    assert Delivery.objects.count() == 2


def test_the_database_refuses_a_second_entry_that_slipped_through(supplier, fern):
    receive(supplier, [row(fern)])
    with pytest.raises(DatabaseError), transaction.atomic():
        Delivery.objects.create(supplier=supplier, note_number="n-7", received_on=CAME_ON)


def test_where_one_bag_cannot_be_nothing_is(supplier, fern):
    with pytest.raises(DatabaseError), transaction.atomic():
        receive(supplier, [row(fern), row(fern, printed_count=0)])
    assert not Delivery.objects.exists()
    assert not Bag.objects.exists() and not LedgerLine.objects.exists()
    assert not SupplierBag.objects.exists()


def test_too_many_bags_are_refused(supplier, fern):
    with pytest.raises(DeliveryRefused, match="2,001 bags"):
        receive(supplier, [row(fern, bags=200)] * 10 + [row(fern)])
    assert not Delivery.objects.exists()


def test_the_price_last_paid_is_the_suppliers_from_now_on(supplier, fern):
    receive(supplier, [row(fern)], "1")
    receive(supplier, [row(fern, cost_cents=1800), row(fern, printed_count=50)], "2")
    receive(supplier, [row(fern, cost_cents=0)], "3")

    offers = supplier.bags_offered.values_list("bag_count", "bag_cents")
    assert sorted(offers) == [(50, 1650), (100, 1800)]


def test_deliveries_are_listed_newest_first(supplier, fern):
    old = receive(supplier, [row(fern)], "1")
    Delivery.objects.filter(pk=old.pk).update(received_on=date(2026, 1, 2))
    new = receive(supplier, [row(fern, bags=2)], "2")

    listed = [(d.pk, d.bag_total, d.cents_total) for d in deliveries_listed()]

    assert listed == [(new.pk, 2, 3300), (old.pk, 1, 1650)]


def test_entering_takes_as_many_queries_for_many_bags_as_for_one(
    supplier, fern, django_assert_max_num_queries
):
    with django_assert_max_num_queries(9):
        receive(supplier, [row(fern)], "1")
    with django_assert_max_num_queries(9):
        receive(supplier, [row(fern, bags=50)], "2")
