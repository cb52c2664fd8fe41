"""The making sheet on a phone at the bench, with the network cut in the middle."""

from datetime import UTC, date, datetime

import pytest
from playwright.sync_api import expect

from decor.models import Job
from inventory.holds.service import used_for
from inventory.models import Item
from quoting.making.sheet import making_sheet
from quoting.making.ticks import counts_of
from quoting.models import Popped, Tick
from tests.browser.conftest import PHONE, log_in, no_network
from tests.factories import BusinessFactory, UserFactory
from tests.quoting.making.shop import bags_made, items_made, job_promised

SMALLEST_PX = 64  # for busy hands: half as much again as WCAG 2.2's enhanced 44


@pytest.fixture
def job(live_server) -> Job:
    BusinessFactory()
    UserFactory()
    bags_made(items_made())
    return job_promised(event_on=date(2026, 6, 20))


def test_counts_made_without_a_network_catch_up_and_count_once(page_at, job: Job):
    page = log_in(page_at(PHONE))
    page.goto(f"/making/{job.pk}/")
    card = page.locator("[data-card]", has=page.locator("h3", has_text="11-inch")).first
    count, plus = card.locator("[data-count]"), card.locator(".making-plus")
    expect(page.locator("#base-fern")).to_be_hidden()
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    for button in card.locator(".making-buttons .btn").all():
        box = button.bounding_box()
        assert box["width"] >= SMALLEST_PX and box["height"] >= SMALLEST_PX

    plus.click()
    card.get_by_role("button", name="10 more").click()
    expect(count).to_have_text("11")
    sheet = page.locator("[data-making]")
    expect(sheet).to_have_attribute("data-waiting", "0")
    page.wait_for_selector("html[data-sheet-kept]")

    with no_network(page):
        card.get_by_role("button", name="10 more").click()
        plus.click()
        card.locator(".making-minus").click()
        card.get_by_role("button", name="One popped").click()
        expect(count).to_have_text("21")
        expect(page.locator("[data-sheet-line]")).to_contain_text("No network")
        page.reload()
        expect(count).to_have_text("21")
        plus.click()
        expect(count).to_have_text("22")
        before = sum(counts_of(job).values())
    expect(sheet).to_have_attribute("data-waiting", "0")
    expect(page.locator("[data-sheet-line]")).to_be_empty()
    page.reload()
    expect(count).to_have_text("22")
    step = making_sheet(job, now=datetime(2026, 6, 19, tzinfo=UTC)).sections[0].steps[0]
    assert before == 11
    assert counts_of(job) == {step.step.name: 22}
    assert sorted(Tick.objects.values_list("quantity", flat=True)) == [-1, 1, 1, 1, 10, 10]
    oat = Item.objects.get(colour__key="oat", nominal_in=11)
    assert Popped.objects.get().bag.item == oat
    assert used_for(job)[oat.pk] == 23
