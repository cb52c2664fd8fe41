"""Suppliers: their terms, and the bags that they offer."""

import pytest
from django.urls import reverse

from inventory.models import Supplier, SupplierBag
from tests.factories import ColourFactory, DeliveryFactory, ItemFactory, SupplierFactory
from tests.inventory.asking import queries_of

LIST, NEW = reverse("supplier_list"), reverse("supplier_new")
TERMS = {
    "name": "Quayside Balloon Supply",
    "lead_days": "5",
    "smallest_order_cents": "40.00",
    "delivery_cents": "8.95",
    "note": "Orders before noon",
}


@pytest.fixture
def supplier(db):
    return SupplierFactory()


@pytest.fixture
def fern(db):
    return ItemFactory()


def test_a_supplier_is_added_with_its_terms(owner_client):
    reply = owner_client.post(NEW, TERMS, follow=True)

    made = Supplier.objects.get()
    assert (made.lead_days, made.smallest_order_cents, made.delivery_cents) == (5, 4000, 895)
    assert "Quayside Balloon Supply is saved." in reply.text and "$40.00" in reply.text


def test_terms_that_are_left_out_cost_nothing(owner_client):
    owner_client.post(NEW, {"name": "Corner shop", "lead_days": "0"})
    made = Supplier.objects.get()
    assert (made.lead_days, made.smallest_order_cents, made.delivery_cents) == (0, 0, 0)


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"name": ""}, "What are they called?"),
        ({"lead_days": "-1"}, "A whole number of days, 0 to 365."),
        ({"lead_days": "soon"}, "A whole number of days, 0 to 365."),
        ({"delivery_cents": "8,95"}, "Write an amount such as 12.50."),
        ({"smallest_order_cents": "-4"}, "Between $0.00"),
    ],
)
def test_what_is_wrong_is_told_and_kept(owner_client, given, told):
    reply = owner_client.post(NEW, TERMS | given)
    assert (reply.status_code, told in reply.text) == (422, True)
    assert "Orders before noon" in reply.text
    assert not Supplier.objects.exists()


def test_two_suppliers_do_not_share_a_name(owner_client, supplier):
    reply = owner_client.post(NEW, TERMS | {"name": "quayside balloon supply"})
    assert (reply.status_code, "of that name already" in reply.text) == (422, True)


def test_a_supplier_is_changed(owner_client, supplier):
    address = reverse("supplier_edit", args=[supplier.pk])
    assert 'value="40.00"' in owner_client.get(address).text
    owner_client.post(address, TERMS | {"lead_days": "9"})
    supplier.refresh_from_db()
    assert supplier.lead_days == 9
    refused = owner_client.post(address, TERMS | {"name": ""})
    assert (refused.status_code, "<h1>Quayside Balloon Supply</h1>" in refused.text) == (422, True)


def test_a_bag_is_offered_by_part_of_its_name(owner_client, supplier, fern):
    address = reverse("supplier_detail", args=[supplier.pk])

    owner_client.post(address, {"item": "fern", "bag_count": "500", "bag_cents": "66"})

    offer = SupplierBag.objects.get()
    assert (offer.item, offer.bag_count, offer.bag_cents) == (fern, 500, 6600)
    assert 'value="66.00"' in owner_client.get(address).text


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"item": "moss"}, "No item of the catalogue is called that."),
        ({"bag_count": "0"}, "A whole number from 1 to 100,000."),
        ({"bag_cents": ""}, "What does the bag cost?"),
        ({"bag_count": "100"}, "A bag of 100 Fern 11-inch is there already"),
    ],
)
def test_an_offer_that_cannot_be_is_told(owner_client, supplier, fern, given, told):
    SupplierBag.objects.create(supplier=supplier, item=fern, bag_count=100, bag_cents=1)
    offer = {"item": "fern 11", "bag_count": "500", "bag_cents": "66"} | given
    reply = owner_client.post(reverse("supplier_detail", args=[supplier.pk]), offer)
    assert (reply.status_code, told in reply.text) == (422, True)
    assert SupplierBag.objects.count() == 1


def test_a_price_is_changed_or_says_why_not(owner_client, supplier, fern):
    offer = SupplierBag.objects.create(supplier=supplier, item=fern, bag_count=500, bag_cents=1)
    address = reverse("supplier_offer_price", args=[offer.pk])

    saved = owner_client.post(address, {"bag_cents": "64.50"}, follow=True)
    assert "the new price is saved" in saved.text
    refused = owner_client.post(address, {"bag_cents": "cheap"}, follow=True)
    assert "the price stays as it was. Write an amount" in refused.text

    offer.refresh_from_db()
    assert offer.bag_cents == 6450


def test_a_bag_is_taken_off_the_list(owner_client, supplier, fern):
    offer = SupplierBag.objects.create(supplier=supplier, item=fern, bag_count=500, bag_cents=1)
    owner_client.post(reverse("supplier_offer_remove", args=[offer.pk]))
    assert not SupplierBag.objects.exists()


def test_an_archived_supplier_is_out_of_the_way_and_can_come_back(owner_client, supplier):
    DeliveryFactory(supplier=supplier)
    owner_client.post(reverse("supplier_put_away", args=[supplier.pk]))
    assert "Archived" in owner_client.get(LIST).text
    assert str(supplier) not in owner_client.get(reverse("delivery_new")).text
    owner_client.post(reverse("supplier_take_up", args=[supplier.pk]))
    supplier.refresh_from_db()
    assert not supplier.is_archived


def test_an_empty_list_says_what_to_do(owner_client):
    assert "No suppliers yet" in owner_client.get(LIST).text


def test_longer_lists_ask_no_more(owner_client, supplier, fern):
    SupplierBag.objects.create(supplier=supplier, item=fern, bag_count=1, bag_cents=1)
    pages = [LIST, reverse("supplier_detail", args=[supplier.pk])]
    few = [queries_of(owner_client, page) for page in pages]
    for number in range(2, 9):
        SupplierFactory(name=f"Supplier {number}")
        item = ItemFactory(colour=ColourFactory(key=f"colour-{number}"))
        SupplierBag.objects.create(supplier=supplier, item=item, bag_count=number, bag_cents=1)
        DeliveryFactory(supplier=supplier)
    assert [queries_of(owner_client, page) for page in pages] == few
