"""The sheet at a place on a phone, with the network cut while it is used."""

from datetime import timedelta

import pytest
from django.utils import timezone
from playwright.sync_api import expect

from decor.models import Visit
from quoting.models import CheckMark, WorkTime
from tests.browser.conftest import PHONE, log_in, no_network
from tests.factories import BusinessFactory, UserFactory
from tests.quoting.making.shop import items_made, job_quoted


@pytest.fixture
def visit(live_server) -> Visit:
    BusinessFactory()
    UserFactory()
    items_made()
    now = timezone.now()
    return Visit.objects.create(
        job=job_quoted().job,
        kind="install",
        starts_at=now,
        ends_at=now + timedelta(hours=2),
        people=2,
        changed_at=now,
    )


def test_ticks_and_clocks_wait_for_the_network_and_what_is_typed_stays(page_at, visit):
    page = log_in(page_at(PHONE))
    page.goto(f"/visits/{visit.pk}/sheet/")
    page.wait_for_selector("html[data-sheet-kept]")
    sheet, checks = page.locator("[data-visit-sheet]"), page.locator(".site-check")
    hang = page.get_by_role("button", name="the clock of hang")
    checks.nth(0).click()
    hang.click()
    expect(sheet).to_have_attribute("data-waiting", "0")

    with no_network(page):
        checks.nth(1).click()
        checks.nth(2).click()
        checks.nth(2).click()
        hang.click()
        page.get_by_label("Name of who takes it over").fill("Ottilie")
        page.get_by_role("button", name="I take it over").click()
        expect(page.locator("[data-not-sent]")).to_contain_text("No network: not sent")
        assert CheckMark.objects.count() == 1
        page.reload()
        expect(page.get_by_label("Name of who takes it over")).to_have_value("Ottilie")
        pressed = [check.get_attribute("aria-pressed") for check in checks.all()]
        assert pressed == ["true", "true", "false", "false", "false", "false"]
        expect(hang).to_contain_text("Start")

    expect(sheet).to_have_attribute("data-waiting", "0")
    page.reload()
    expect(page.locator("[data-checks-left]")).to_have_text("4 to go")
    assert set(visit.check_marks.values_list("key", flat=True)) == {
        "seen-from-guests",
        "top-not-drooping",
    }
    clock = WorkTime.objects.get()
    assert (clock.phase, clock.people, clock.minutes, clock.visit) == ("hang", 2, 1, visit)
