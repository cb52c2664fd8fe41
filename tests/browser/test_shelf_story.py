"""A week with a conflict, on a phone: two jobs want the last two bags of one colour. The second is
told before it promises, and a purchase or a near colour settles it."""

import re
from collections.abc import Sequence
from datetime import date, timedelta

import pytest
from django.utils import timezone
from playwright.sync_api import Page, expect

from decor.models import Job
from inventory.catalogue.service import colour_add
from inventory.catalogue.starter import LATEX_BAGS, add_starter_catalogue
from inventory.ledger.service import bags_receive
from inventory.models import Bag, Hold, Item, SupplierBag
from inventory.models.item import Finish
from quoting.models import Quote
from quoting.pieces.service import piece_add, piece_type
from quoting.pieces.surroundings import surroundings_of
from tests.browser.conftest import PHONE, log_in
from tests.factories import (
    BusinessFactory,
    JobFactory,
    QuoteFactory,
    SupplierFactory,
    UserFactory,
)

ARCH = {
    "shape": "walk_arch", "arch_width": "9 ft", "arch_height": "8 ft", "fullness": "full",
    "height": "8 ft",
}  # fmt: skip
WIDE = {"timeout": 20_000}


@pytest.fixture
def two_jobs(transactional_db) -> tuple[Quote, Quote]:
    """Both want slipway, of which there are two bags of the usual size; tidewater is near it."""
    business, today = BusinessFactory(), timezone.localdate()
    UserFactory()
    add_starter_catalogue()
    colour_add(
        name="Slipway",
        hex_value="#437c93",
        finish=Finish.PLAIN,
        bags={size: bag for size, bag in LATEX_BAGS.items() if size},
        now=timezone.now(),
    )
    slipway = Item.objects.get(colour__key="slipway", nominal_in=11)
    for item in Item.objects.all():
        receive(item, bags=2 if item == slipway else 6)
    supplier = SupplierFactory(lead_days=3)
    SupplierBag.objects.create(supplier=supplier, item=slipway, bag_count=100, bag_cents=1650)
    return tuple(
        quoted(title, today + timedelta(days=days), business)
        for title, days in (("Sailing supper arch", 7), ("Ferry's hundredth year", 9))
    )


def receive(item: Item, *, bags: int) -> None:
    bags_receive(
        bags=[
            Bag(
                item=item,
                received_on=date(2026, 4, 2),
                cost_cents=item.bag_cents,
                printed_count=item.bag_count,
            )
            for _ in range(bags)
        ],
        by=None,
        now=timezone.now(),
    )


def quoted(title: str, day: date, business, *, colours: Sequence[str] = ("slipway",)) -> Quote:
    quote = QuoteFactory(job=JobFactory(title=title, stage="quoted", event_on=day))
    surroundings = surroundings_of(quote, business=business, today=timezone.localdate())
    piece = piece_add(quote=quote, title="Arch")
    typed = {"title": "Arch", **ARCH, "base": list(colours)}
    piece_type(piece=piece, typed=typed, surroundings=surroundings)
    return quote


def ask(page: Page, title: str) -> None:
    """From the list of jobs to the question."""
    page.get_by_role("navigation").get_by_role("link", name="Jobs").click()
    page.get_by_role("link", name=title).click()
    page.get_by_role("link", name="Promise it").click()
    expect(page.get_by_role("heading", name="Can I take this job?")).to_be_visible(**WIDE)


def _the_first_is_promised(page: Page) -> None:
    ask(page, "Sailing supper arch")
    expect(page.get_by_text("Covered: everything is on the shelf.")).to_be_visible()
    page.get_by_role("button", name="Promise it").click()
    expect(page.get_by_text("is promised, and what it takes of the shelf is held")).to_be_visible()


def _the_second_is_told(page: Page) -> None:
    ask(page, "Ferry's hundredth year")
    expect(page.get_by_text(re.compile(r"Short by \d+ Slipway 11-inch\."))).to_be_visible()
    expect(page.get_by_text("Tidewater 11-inch")).to_be_visible()
    expect(page.get_by_text("Near: a difference shows side by side")).to_be_visible()
    expect(page.get_by_role("button", name="Promise it")).to_have_count(0)
    overflow = "document.documentElement.scrollWidth > window.innerWidth"
    assert not page.evaluate(overflow)


def _who_has_them(page: Page) -> None:
    page.get_by_role("link", name="Who has them").click()
    expect(page.get_by_role("cell", name="Sailing supper arch")).to_be_visible()
    page.go_back()


def test_a_purchase_settles_it(page_at, two_jobs):
    page = page_at(PHONE)
    log_in(page)
    _the_first_is_promised(page)
    _the_second_is_told(page)
    _who_has_them(page)
    page.get_by_role("button", name="Put the rest on the buy list").click()
    expect(page.get_by_text("On the buy list", exact=True)).to_be_visible()
    page.get_by_role("button", name="Promise it anyway").click()
    expect(page.get_by_text("is promised, and what it takes of the shelf is held")).to_be_visible()
    assert set(Job.objects.values_list("stage", flat=True)) == {"promised"}
    slipway = Hold.objects.filter(item__colour__key="slipway", item__nominal_in=11)
    assert sum(slipway.values_list("quantity", flat=True)) > 200


def test_a_near_colour_settles_it(page_at, two_jobs):
    page = page_at(PHONE)
    log_in(page)
    _the_first_is_promised(page)
    _the_second_is_told(page)
    page.get_by_role("button", name="Use Tidewater").click()
    expect(page.get_by_text("Tidewater is in the place of Slipway in “Arch”.")).to_be_visible()
    expect(page.get_by_text("Covered: everything is on the shelf.")).to_be_visible()
    page.get_by_role("button", name="Promise it").click()
    expect(page.get_by_text("is promised, and what it takes of the shelf is held")).to_be_visible()
    slipway = Hold.objects.filter(item__colour__key="slipway", item__nominal_in=11)
    assert sum(slipway.values_list("quantity", flat=True)) <= 200
