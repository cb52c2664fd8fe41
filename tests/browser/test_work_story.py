"""A demo job is made and hung by the helper on his phone, the network cut in the middle; then the
owner looks back. Stock, hold, hours and money add up, and the helper has seen no price."""

import re
from contextlib import nullcontext

import pytest
from django.urls import reverse
from playwright.sync_api import Locator, Page, expect

from decor.display import money_text, percent_text
from decor.models import Job
from decor.models.job import Stage
from inventory.holds.service import used_for
from inventory.ledger.reading import bag_problems
from inventory.models.hold import HoldState
from quoting.demo.scenario import BUSINESS
from quoting.look_back.comparing import compare
from quoting.making.bags import items_of
from quoting.making.plan import plan_for
from quoting.making.ticks import counts_of
from tests.browser.conftest import PHONE, log_in, no_network

JOB = "Sixth birthday porch"
MONEY = re.compile(r"[$€£]|\d\.\d\d\b(?! m)")


@pytest.fixture
def job(demo) -> Job:
    return Job.objects.get(title=JOB)


def no_price_on(page: Page) -> None:
    assert not MONEY.search(page.locator("body").inner_text()), page.url


def count_whole(card: Locator) -> None:
    """By thumb: tens as long as they fit, then ones."""
    if card.locator("[data-once]").count():
        card.locator("[data-once]").click()
        return
    target = int(re.search(r"of (\d+)", card.locator(".making-of").inner_text())[1])
    presses = card.locator(".making-buttons button:not(.making-minus)")
    steps = sorted((int(press.get_attribute("value")) for press in presses.all()), reverse=True)
    for step in steps:
        while int(card.locator("[data-count]").inner_text()) + step <= target:
            card.locator(f".making-buttons button[value='{step}']").click()
    expect(card.locator("[data-count]")).to_have_text(str(target))


def make_everything(page: Page) -> None:
    """Colour by colour. The network is gone for the second of them."""
    colours = page.locator("[data-colours] a")
    for at in range(colours.count()):
        with no_network(page) if at == 1 else nullcontext():
            colours.nth(at).click()
            for card in page.locator("[data-section]:not([hidden]) [data-card]").all():
                count_whole(card)
    expect(page.locator("[data-making]")).to_have_attribute("data-waiting", "0")


def test_a_job_is_made_hung_and_looked_back_on(page_at, job):
    page = log_in(page_at(PHONE), "tomas")
    no_price_on(page)
    page.goto(reverse("making_sheet", args=[job.pk]))
    page.wait_for_selector("html[data-sheet-kept]")
    page.locator(".making-clocks summary").click()
    clock = page.locator(".making-clock").first
    clock.click()
    expect(clock).to_contain_text("Stop")
    no_price_on(page)
    make_everything(page)
    clock.click()
    expect(clock).to_contain_text("Start")
    expect(page.locator("[data-making]")).to_have_attribute("data-waiting", "0")

    plan, counts = plan_for(job), counts_of(job)
    assert {step.name: counts.get(step.name) for step in plan.steps} == {
        step.name: step.target for step in plan.steps
    }
    used = {key: item.pk for key, item in items_of(plan.needed).items()}
    assert used_for(job) == {used[key]: quantity for key, quantity in plan.needed.items()}
    assert bag_problems() == []
    job.refresh_from_db()
    assert job.stage == Stage.MADE

    install = job.visits.get(kind="install")
    page.goto(reverse("visit_page", args=[install.pk]))
    no_price_on(page)
    for check in page.locator(".site-check").all():
        check.click()
        expect(check).to_have_attribute("aria-pressed", "true")
    page.get_by_label("Name of who takes it over").fill("Orla Brannigan")
    page.get_by_role("button", name="I take it over").click()
    expect(page.get_by_text("Orla Brannigan").first).to_be_visible()
    no_price_on(page)
    job.refresh_from_db()
    assert job.stage == Stage.UP
    assert set(job.holds.values_list("state", flat=True)) == {HoldState.RELEASED}

    owner = log_in(page_at(PHONE), "nell")
    owner.goto(reverse("look_back", args=[job.pk]))
    compared = compare(job)
    assert {row.item.pk: row.used for row in compared.items if row.used} == used_for(job)
    worked = job.work_times.get()
    assert (worked.phase, worked.people) == ("inflate and tie", 1)
    assert next(row.real for row in compared.phases if row.real) == worked.minutes / 60
    kept = compared.net_cents - compared.real_cents
    assert compared.real_cents == sum(row.real_cents for row in compared.money)
    assert compared.real_margin_bp == pytest.approx(10_000 * kept / compared.net_cents, abs=0.5)
    for said in (
        percent_text(compared.real_margin_bp),
        money_text(compared.real_cents, BUSINESS["currency"]),
    ):
        expect(owner.get_by_text(said).first).to_be_visible()
