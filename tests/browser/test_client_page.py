"""A client's page on a small phone in which scripts are switched off, and as axe sees it."""

from datetime import timedelta

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.utils import timezone
from playwright.sync_api import Browser, Page, expect

from quoting.client_page.links import link_make
from quoting.models import ClientAnswer, Quote
from tests.browser.test_accessibility import OPTIONS
from tests.quoting.promise.conftest import quote  # noqa: F401
from tests.quoting.promise.sending import sent
from tests.quoting.quotes.variants import with_variants

pytestmark = pytest.mark.django_db(transaction=True)
SMALL_PHONE = {"width": 360, "height": 640}


def sideways(page: Page) -> int:
    return page.evaluate("document.documentElement.scrollWidth - window.innerWidth")


def violations(page: Page) -> list[str]:
    found = Axe().run(page, options=OPTIONS).response["violations"]
    return [f"{one['id']}: {one['nodes'][0]['html'][:120]}" for one in found]


def test_a_client_chooses_and_accepts_without_a_script(
    browser: Browser,
    page_at,
    live_server,
    quote: Quote,  # noqa: F811
):
    today = timezone.localdate()
    quote.job.event_on, quote.expires_on = today + timedelta(days=21), today + timedelta(days=9)
    quote.job.save()
    quote.save()
    with_variants(quote)
    sent(quote, today=today, now=timezone.now())
    _, token = link_make(quote=quote, by=None, now=timezone.now())
    private = f"{live_server.url}/q/{token}/"

    looked_at = page_at(SMALL_PHONE)
    looked_at.goto(private)
    assert token not in looked_at.url
    assert violations(looked_at) == []

    context = browser.new_context(viewport=SMALL_PHONE, java_script_enabled=False)
    page = context.new_page()
    page.goto(private)
    assert sideways(page) <= 0
    page.get_by_role("link", name="Answer this quote").click()
    page.get_by_role("button", name="Accept this quote").click()
    expect(page.get_by_text("Type your name.").first).to_be_visible()
    assert sideways(page) <= 0
    page.get_by_label("B: Fuller").check()
    page.get_by_label("I have read the terms").check()
    page.get_by_label("Your name").fill("Imogen Vale")
    page.get_by_role("button", name="Accept this quote").click()
    expect(page.get_by_role("heading", name="Thank you")).to_be_visible()
    expect(page.get_by_text("B: Fuller", exact=True)).to_be_visible()
    assert sideways(page) <= 0
    context.close()

    assert ClientAnswer.objects.get().typed_name == "Imogen Vale"
    looked_at.reload()
    expect(looked_at.get_by_role("heading", name="Thank you")).to_be_visible()
    assert violations(looked_at) == []
