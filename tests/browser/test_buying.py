"""From a short quote to a covered one, on a phone: put on the buy list, ordered, and received in
two parts, the second of them entered as a delivery."""

from datetime import timedelta

import pytest
from django.utils import timezone
from playwright.sync_api import Page, expect

from inventory.catalogue.starter import add_starter_catalogue
from inventory.ledger.reading import bag_problems
from inventory.models import Bag, Item, Order, SupplierBag
from quoting.models import Quote
from tests.browser.conftest import PHONE, log_in
from tests.browser.test_shelf_story import ask, quoted, receive
from tests.factories import BusinessFactory, SupplierFactory, UserFactory


@pytest.fixture
def short_of_fern(transactional_db) -> Quote:
    """Everything is there but fern of the usual size, which comes in bags of fifty in two days."""
    business = BusinessFactory()
    UserFactory()
    add_starter_catalogue()
    fern = Item.objects.get(colour__key="fern", nominal_in=11)
    for item in Item.objects.exclude(pk=fern.pk):
        receive(item, bags=6)
    supplier = SupplierFactory(name="Quayside", lead_days=2)
    SupplierBag.objects.create(supplier=supplier, item=fern, bag_count=50, bag_cents=850)
    day = timezone.localdate() + timedelta(days=9)
    return quoted("Ferry's hundredth year", day, business, colours=["fern"])


def _shelf(page: Page, room: str) -> None:
    page.get_by_role("navigation").get_by_role("link", name="Shelf").click()
    page.get_by_role("link", name=room, exact=True).click()


def _fits(page: Page) -> None:
    assert not page.evaluate("document.documentElement.scrollWidth > window.innerWidth")


def test_what_is_short_is_bought_and_then_it_is_covered(page_at, short_of_fern):
    page = page_at(PHONE)
    log_in(page)
    ask(page, "Ferry's hundredth year")
    named = page.locator(".cover-buy").inner_text()
    assert "bags of 50 from Quayside, here by" in named
    bags = int(named.removeprefix("To buy: ").split()[0])
    assert bags >= 2
    page.get_by_role("button", name="Put the rest on the buy list").click()
    expect(page.get_by_text("On the buy list", exact=True)).to_be_visible()

    _shelf(page, "Buy list")
    expect(page.get_by_text(f"{bags} bags of 50")).to_be_visible()
    _fits(page)
    page.get_by_role("link", name="Mark as ordered from Quayside").click()
    _fits(page)
    page.get_by_role("button", name="Mark as ordered").click()
    ask(page, "Ferry's hundredth year")
    expect(page.get_by_text("Covered, if these arrive by")).to_be_visible()

    _shelf(page, "Orders")
    page.get_by_role("link", name="Quayside").first.click()
    page.get_by_role("link", name="It has come").click()
    _fits(page)
    page.get_by_role("textbox", name="Bags").fill("1")
    page.get_by_role("button", name="Put it on the shelf").click()
    expect(page.get_by_text("1 bag is on the shelf. The rest is still expected.")).to_be_visible()
    assert Bag.objects.filter(item__colour__key="fern", item__nominal_in=11).count() == 1

    _shelf(page, "Deliveries")
    page.get_by_role("link", name="Enter a delivery").click()
    page.get_by_label("Supplier").select_option(label="Quayside")
    page.locator("#id_item_1").fill("fern 11")
    page.locator("#id_bags_1").fill(str(bags - 1))
    page.locator("#id_count_1").fill("50")
    page.get_by_role("button", name="Put it on the shelf").click()
    expect(page.get_by_text("Is this the order of").first).to_be_visible()
    _fits(page)
    page.get_by_label("Quayside, ordered").check()
    page.get_by_role("button", name="Put it on the shelf").click()
    expect(page.get_by_text("Everything of the order has come.")).to_be_visible()
    assert Order.objects.get().state == "received" and bag_problems() == []

    ask(page, "Ferry's hundredth year")
    expect(page.get_by_text("Covered: everything is on the shelf.")).to_be_visible()
