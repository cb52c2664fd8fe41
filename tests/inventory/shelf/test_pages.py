"""The pages of the shelf: all of it, one place, one item, its ledger, its settings."""

from datetime import date

import pytest
from django.urls import reverse
from django.utils import timezone

from inventory.ledger.service import bag_lose, bag_take
from inventory.models import ShelfSettings, SupplierBag
from tests.factories import BagFactory, ItemFactory, JobFactory, SundryFactory, SupplierFactory
from tests.inventory.asking import queries_of

SHELF = reverse("shelf")


@pytest.fixture(autouse=True)
def in_june(time_machine):
    time_machine.move_to("2026-06-13T15:00Z")


@pytest.fixture
def fern(db):
    return ItemFactory()


def test_the_shelf_says_how_many_of_what(owner_client, fern):
    BagFactory(item=fern, printed_count=100, received_on=date(2024, 3, 1))
    BagFactory(item=fern, printed_count=42, place="Box <3>")
    ItemFactory(nominal_in=5)
    SundryFactory(name="fishing line", unit="m")

    page = owner_client.get(SHELF).text

    assert "142 balloons and the sundries, in 2 bags" in page
    assert f'href="{reverse("shelf_item", args=[fern.pk])}"' in page
    assert "100 Fern 11-inch</a>" in page and "past its best" in page
    assert "?name=Box%20%3C3%3E" in page and "Box &lt;3&gt;" in page
    assert page.count("none</span>") >= 1


def test_the_shelf_leads_to_all_its_parts(owner_client, fern):
    page = owner_client.get(SHELF).text
    for name in (
        "delivery_new", "delivery_list", "supplier_list", "counting_list", "loss_list",
        "label_new", "catalogue", "shelf_settings", "shelf_free", "shelf_kit",
    ):  # fmt: skip
        assert f'href="{reverse(name)}"' in page


def test_an_empty_shelf_says_what_to_do_first(owner_client):
    assert "Nothing to put on the shelf yet" in owner_client.get(SHELF).text
    ItemFactory()
    assert "Nothing like that" in owner_client.get(SHELF, {"search": "moss"}).text


def test_a_place_shows_its_bags(owner_client, fern):
    BagFactory(item=fern, place="Box 3", lot="B2", note="dry")
    BagFactory(item=fern, place="", lot="C9")
    there = reverse("shelf_place")

    box = owner_client.get(there, {"name": "Box 3"}).text
    assert "lot B2" in box and "dry" in box and "lot C9" not in box and "sealed" in box
    unplaced = owner_client.get(there).text
    assert "lot C9" in unplaced and "lot B2" not in unplaced
    assert "Nothing here" in owner_client.get(there, {"name": "Moon"}).text


def test_an_item_shows_its_bags_its_worth_and_who_sells_it(owner_client, fern):
    old = BagFactory(item=fern, printed_count=100, cost_cents=1000, received_on=date(2026, 1, 5))
    BagFactory(item=fern, printed_count=100, cost_cents=2000, lot="B2", place="Box 3")
    bag_take(bag=old, quantity=60, job=JobFactory(), by=None, now=timezone.now())
    bag_lose(bag=old, quantity=2, reason="popped", job=None, by=None, now=timezone.now())
    SupplierBag.objects.create(supplier=SupplierFactory(), item=fern, bag_count=500, bag_cents=6600)

    page = owner_client.get(reverse("shelf_item", args=[fern.pk])).text

    assert "138" in page and "in 2 bags" in page and "Box 3, Cupboard" in page
    # First in, first out: 62 of the old bag are used, so 38 at 10 cents and 100 at 20 are here.
    assert "$23.80" in page
    assert "500 for $66.00" in page and "order from $40.00" in page
    assert "2 of 62" in page
    assert page.index("opened") < page.index("sealed")


def test_an_item_without_bags_says_so(owner_client, fern):
    page = owner_client.get(reverse("shelf_item", args=[fern.pk])).text
    assert "None on the shelf" in page and "No supplier is known to have it" in page


def test_an_items_ledger_reads_over_all_its_bags(owner_client, owner, fern):
    page_at = reverse("shelf_item_ledger", args=[fern.pk])
    assert "Nothing has happened yet" in owner_client.get(page_at).text
    first, second = BagFactory(item=fern, lot="B1"), BagFactory(item=fern, lot="B2")
    job = JobFactory()
    bag_take(bag=first, quantity=30, job=job, by=owner, now=timezone.now())

    page = owner_client.get(page_at).text

    assert "−30" in page and "170 left" in page and "Nell Okafor-Hart" in page
    assert reverse("job_detail", args=[job.pk]) in page
    assert reverse("bag_detail", args=[second.pk]) in page


def test_how_long_latex_is_good_can_be_set(owner_client, fern):
    BagFactory(item=fern, received_on=date(2025, 5, 1))
    assert "past its best" not in owner_client.get(SHELF).text

    settings = {"latex_best_months": "12", "days_to_spare": "2"}
    refused = owner_client.post(reverse("shelf_settings"), settings | {"latex_best_months": "0"})
    assert refused.status_code == 422
    owner_client.post(reverse("shelf_settings"), settings)

    assert ShelfSettings.objects.get().latex_best_months == 12
    assert "past its best" in owner_client.get(SHELF).text


@pytest.mark.parametrize("name", ["shelf", "shelf_place", "shelf_item", "shelf_item_ledger"])
def test_a_fuller_shelf_asks_no_more(owner_client, fern, name):
    address = reverse(name, args=[fern.pk] if name.startswith("shelf_item") else [])
    address += "?name=Cupboard" if name == "shelf_place" else ""
    job = JobFactory()
    bag_take(bag=BagFactory(item=fern), quantity=3, job=job, by=None, now=timezone.now())
    few = queries_of(owner_client, address)
    for size in (5, 17):
        ItemFactory(nominal_in=size)
    for lot in "BCDEFG":
        bag = BagFactory(item=fern, lot=lot)
        bag_take(bag=bag, quantity=3, job=job, by=None, now=timezone.now())
    assert queries_of(owner_client, address) == few
