"""What is typed outlives a reload, a refusal and a lost line, until the server has it."""

import re

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect

from decor.models import Job
from tests.browser.conftest import LAPTOP, PHONE, no_network

PASSWORD = "six-oat-balloons"
QUIET = "Kept on this device, not yet saved."


@pytest.fixture
def enquiry(page_at, business, owner) -> Page:
    page = page_at(PHONE)
    page.goto(reverse("login") + "?next=" + reverse("enquiry_new"))
    page.get_by_label("Username").fill(owner.username)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Log in").click()
    expect(page.get_by_role("heading", name="New enquiry")).to_be_visible()
    # The page is drawn before its scripts listen.
    page.wait_for_function("() => document.readyState === 'complete' && Boolean(window.htmx)")
    return page


def type_an_enquiry(page: Page) -> None:
    page.locator("[name=name]").fill("The Brannigan twins")
    page.locator("[name=note]").fill("A porch swag in marigold")
    page.locator("[name=is_outdoor][value=yes]").check()
    expect(page.locator(".kept-quiet")).to_have_text(QUIET)


def wait_until_kept(page: Page, count: int) -> None:
    """The script runs after the page is drawn, so its work is waited for."""
    page.wait_for_function(f"() => Object.keys(localStorage).length === {count}")


def test_what_was_typed_is_back_after_a_reload(enquiry):
    type_an_enquiry(enquiry)
    enquiry.reload()
    expect(enquiry.locator(".kept-restored")).to_contain_text("not yet saved")
    expect(enquiry.locator("[name=name]")).to_have_value("The Brannigan twins")
    expect(enquiry.locator("[name=note]")).to_have_value("A porch swag in marigold")
    expect(enquiry.locator("[name=is_outdoor][value=yes]")).to_be_checked()


def test_what_was_put_back_can_be_dropped(enquiry):
    type_an_enquiry(enquiry)
    enquiry.reload()
    enquiry.get_by_role("button", name="Drop it, show what is saved").click()
    expect(enquiry.locator("[name=name]")).to_have_value("")
    expect(enquiry.locator(".kept-restored")).to_have_count(0)
    enquiry.reload()
    expect(enquiry.locator("[name=name]")).to_have_value("")


def test_a_refusal_loses_nothing_and_leads_to_the_field(enquiry):
    type_an_enquiry(enquiry)
    enquiry.locator(".form-actions .btn-primary").click()
    problems = enquiry.locator("[data-form-problems]")
    expect(problems).to_be_focused()
    expect(enquiry.locator("[name=note]")).to_have_value("A porch swag in marigold")
    wait_until_kept(enquiry, 1)
    problems.get_by_role("link").first.click()
    expect(enquiry.locator("[name=contact]")).to_be_focused()


def test_once_the_server_has_it_nothing_is_kept(enquiry):
    type_an_enquiry(enquiry)
    enquiry.locator("[name=contact]").fill("(207) 555-0166")
    enquiry.locator(".form-actions .btn-primary").click()
    expect(enquiry.locator("[data-keep-saved=enquiry]")).to_be_visible()
    wait_until_kept(enquiry, 0)
    assert Job.objects.count() == 1


def test_a_lost_line_is_said_and_costs_nothing(enquiry):
    type_an_enquiry(enquiry)
    status = enquiry.locator("[data-line-status]")
    with no_network(enquiry):
        expect(status).to_contain_text("What you type is kept on this device")
    expect(status).to_be_empty()
    enquiry.reload()
    expect(enquiry.locator("[name=name]")).to_have_value("The Brannigan twins")


def test_who_is_logged_out_meanwhile_is_told_and_keeps_what_was_typed(enquiry):
    enquiry.context.clear_cookies()
    type_an_enquiry(enquiry)
    enquiry.locator("[name=contact]").press_sequentially("555-0144", delay=150)
    expect(enquiry.locator("[data-line-status]")).to_contain_text("You are logged out")
    expect(enquiry.get_by_label("Password")).to_have_count(0)


def test_no_password_is_ever_kept(enquiry):
    type_an_enquiry(enquiry)
    kept = enquiry.evaluate("JSON.stringify(localStorage)")
    assert "The Brannigan twins" in kept
    assert PASSWORD not in kept
    assert "csrf" not in kept


def test_logging_out_asks_before_it_forgets_what_is_not_saved(enquiry):
    type_an_enquiry(enquiry)
    answers = iter([False, True])
    enquiry.on("dialog", lambda box: box.accept() if next(answers) else box.dismiss())
    enquiry.get_by_text("More", exact=True).click()
    enquiry.get_by_role("button", name="Log out").click()
    wait_until_kept(enquiry, 1)
    # Typed this instant: it would be written down a moment later, were the page still there.
    enquiry.locator("[name=note]").dispatch_event("input")
    enquiry.get_by_role("button", name="Log out").click()
    expect(enquiry.get_by_role("heading", name="Log in")).to_be_visible()
    wait_until_kept(enquiry, 0)


def test_the_menu_closes_by_escape_and_gives_the_focus_back(enquiry):
    more = enquiry.locator("details[data-menu]")
    enquiry.get_by_text("More", exact=True).click()
    expect(more).to_have_attribute("open", re.compile(".*"))
    enquiry.keyboard.press("Escape")
    expect(more).not_to_have_attribute("open", re.compile(".*"))
    expect(more.locator("summary")).to_be_focused()


def test_the_first_tab_offers_to_skip_to_the_page(enquiry):
    enquiry.goto(reverse("client_list"))
    enquiry.keyboard.press("Tab")
    expect(enquiry.get_by_role("link", name="Skip to the page")).to_be_in_viewport()
    enquiry.keyboard.press("Enter")
    expect(enquiry.locator("main")).to_be_focused()


# 320 by 256 CSS pixels: what a window of 1280 by 1024 shows at 400 % (WCAG 2.2, 1.4.10).
@pytest.mark.parametrize("size", [PHONE, LAPTOP, {"width": 320, "height": 256}])
def test_no_page_scrolls_sideways_and_every_control_is_large_enough(enquiry, size):
    enquiry.set_viewport_size(size)
    for name in ("enquiry_new", "job_list", "client_list"):
        enquiry.goto(reverse(name))
        root = "document.documentElement"
        assert enquiry.evaluate(f"{root}.scrollWidth <= {root}.clientWidth"), name
        for box in enquiry.locator(".btn:visible, .form-control:visible, .place:visible").all():
            # 44 px is WCAG 2.2, 2.5.5; half a pixel is what the layout may round away.
            assert box.bounding_box()["height"] >= 43.5, (name, box)
