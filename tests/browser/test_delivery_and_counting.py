"""A delivery by keyboard alone on a laptop, a count by thumb on a phone that is interrupted."""

import pytest
from django.urls import reverse

from inventory.ledger.reading import bag_problems
from inventory.models import Bag, CountedBag, LedgerLine
from tests.browser.conftest import LAPTOP, PHONE, log_in
from tests.factories import (
    BagFactory,
    BusinessFactory,
    ColourFactory,
    ItemFactory,
    SupplierFactory,
    UserFactory,
)


@pytest.fixture
def open_for_business(transactional_db):
    BusinessFactory()
    UserFactory()
    SupplierFactory()
    for key in ("fern", "plum"):
        for size in (5, 11):
            ItemFactory(colour=ColourFactory(key=key), nominal_in=size)


def focused(page) -> str:
    return page.evaluate("document.activeElement.id")


def test_twenty_bags_by_keyboard_alone(open_for_business, page_at):
    page = page_at(LAPTOP)
    log_in(page)
    page.goto(reverse("delivery_new"))
    assert page.locator("[data-row]:visible").count() == 1
    keys = page.keyboard
    page.get_by_label("Supplier").focus()
    keys.type("Quayside")
    page.get_by_label("Number of the delivery note").focus()
    keys.type("N-7")
    keys.press("Tab")
    for item, bags in (("fern 11", "9"), ("fern 5", "3"), ("plum 11", "5"), ("plum", "3")):
        keys.type(item)
        for _ in range(3):
            keys.press("Tab")
        keys.type(bags)
        if item == "fern 11":
            keys.press("Tab")
            keys.press("Tab")
            keys.type("Box 3")
        keys.press("Enter")
    assert focused(page) == "id_item_5"
    assert page.locator("#id_place_5").get_attribute("placeholder") == "(Box 3)"

    keys.press("Enter")  # on the blank row: to the button
    keys.press("Enter")
    told = page.get_by_role("link", name="Row 4, item: It could be Plum 5-inch or Plum 11-inch.")
    told.click()
    assert focused(page) == "id_item_4"
    keys.press("End")
    keys.type(" 5")
    keys.press("Enter")
    keys.press("Enter")
    keys.press("Enter")

    page.get_by_text("20 bags are on the shelf.").wait_for()
    assert Bag.objects.filter(place="Box 3").count() == 20


def test_what_was_typed_of_a_delivery_outlives_a_reload(open_for_business, page_at):
    page = page_at(LAPTOP)
    log_in(page)
    page.goto(reverse("delivery_new"))
    page.locator("#id_item_1").fill("fern 11")
    page.locator("#id_item_2").fill("plum 5")
    page.get_by_text("Kept on this device, not yet saved.").wait_for()

    page.reload()

    page.get_by_text("Put back what you typed").wait_for()
    assert page.locator("#id_item_2").input_value() == "plum 5"
    assert page.locator("[data-row]:visible").count() == 3


def test_a_count_by_thumb_can_stop_and_go_on(open_for_business, page_at):
    item = ItemFactory(nominal_in=17)
    for lot in "ABC":
        BagFactory(item=item, place="Box 3", lot=lot)
    page = page_at(PHONE)
    log_in(page)
    page.goto(reverse("counting_list"))
    page.get_by_role("button", name="Count Box 3").click()
    page.wait_for_load_state()  # no thumb is quicker than the page's scripts
    page.get_by_label("lot A").fill("100")
    page.keyboard.press("Enter")
    page.get_by_label("lot B").fill("93")
    page.keyboard.press("Enter")
    page.get_by_text("7 fewer").wait_for()
    page.get_by_text("2 of 3 counted").wait_for()
    assert CountedBag.objects.count() == 2
    page.get_by_label("lot C").fill("9o")
    page.keyboard.press("Enter")
    page.get_by_text("A whole number, 0 or more.").wait_for()

    page.reload()  # what was refused is not saved, and not lost
    page.get_by_text("Put back what you typed").wait_for()
    assert page.get_by_label("lot C").input_value() == "9o"
    page.get_by_text("A whole number, 0 or more.").wait_for()
    page.wait_for_load_state("networkidle")  # what was put back has been asked about
    page.get_by_label("lot C").fill("")
    page.keyboard.press("Enter")
    page.get_by_text("A whole number, 0 or more.").wait_for(state="detached")

    page.goto(reverse("shelf"))  # the telephone rings
    page.goto(reverse("counting_list"))
    page.get_by_role("link", name="Go on with Box 3").click()
    assert page.get_by_label("lot B").input_value() == "93"
    page.get_by_role("button", name="Look at the differences").click()
    page.get_by_label("Why").fill("Popped and not written down")
    page.get_by_role("button", name="Set the ledger right").click()

    page.get_by_text("Box 3 is counted. 1 differed, and the ledger is set right.").wait_for()
    assert LedgerLine.objects.get(quantity=-7).why == "Popped and not written down"
    assert bag_problems() == []
