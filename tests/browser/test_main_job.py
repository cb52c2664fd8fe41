"""The owner's main job, from login to the PDF in her downloads, on a laptop and on a phone."""

import re
from datetime import timedelta
from io import BytesIO

import pytest
from django.utils import timezone
from playwright.sync_api import Page, expect
from pypdf import PdfReader

from decor.models import Job
from decor.models.job import Stage
from inventory.catalogue.starter import add_starter_catalogue
from quoting.models import Edition
from tests.browser.conftest import LAPTOP, PHONE
from tests.factories import BusinessFactory, RateCardFactory, UserFactory

DAYS_AHEAD = timedelta(days=40)


@pytest.fixture
def open_for_business(transactional_db):
    BusinessFactory()
    UserFactory()
    RateCardFactory()
    add_starter_catalogue()


def _log_in(page: Page) -> None:
    page.goto("/")
    page.get_by_label("Username").fill("nell")
    page.get_by_label("Password").fill("six-oat-balloons")
    page.get_by_role("button", name="Log in").click()


def _take_the_enquiry(page: Page) -> None:
    page.get_by_role("link", name="New enquiry").first.click()
    page.get_by_role("textbox", name="Name").fill("Wexcombe Bay Library")
    page.get_by_label("How to reach them").fill("reading@wexcombebay.example")
    page.get_by_label("Date").fill((timezone.localdate() + DAYS_AHEAD).isoformat())
    page.get_by_role("textbox", name="Place").fill("Library porch")
    page.get_by_label("Outdoors").check()
    page.get_by_label("What is it for").fill("Reading-week arch")
    page.get_by_role("button", name="Save the enquiry").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Reading-week arch")


def _describe_the_garland(page: Page) -> None:
    page.get_by_role("button", name="Start a quote").first.click()
    page.get_by_role("link", name="Add a piece").first.click()
    page.get_by_role("button", name="Walk-through arch").click()
    estimate = page.locator("#estimate-body")
    for colour in ("Oat", "Fern"):
        page.get_by_role("group", name="Palette").get_by_label(colour, exact=True).check()
    expect(estimate).to_contain_text(re.compile(r"\$\d"))
    first = estimate.inner_text()
    page.get_by_label("Width at the ground").fill("12 ft")
    expect(estimate).not_to_have_text(first)


@pytest.mark.parametrize("size", [LAPTOP, PHONE], ids=["laptop", "phone"])
def test_an_enquiry_becomes_a_quote_in_the_downloads(page_at, open_for_business, size):
    page = page_at(size)
    _log_in(page)
    _take_the_enquiry(page)
    _describe_the_garland(page)
    page.get_by_role("button", name="Done, to the quote").first.click()
    page.get_by_role("link", name="Send").first.click()
    page.get_by_role("button", name="Mark as sent and get the PDF").click()
    with page.expect_download() as download:
        page.get_by_role("link", name="PDF").first.click()
    pdf = download.value.path().read_bytes()
    edition = Edition.objects.get()
    assert pdf == bytes(edition.pdf)
    said = " ".join(p.extract_text() for p in PdfReader(BytesIO(pdf)).pages)
    assert "Reading-week arch" in said
    assert f"{edition.total_cents / 100:,.2f}" in said
    assert "margin" not in said.lower()
    assert Job.objects.get().stage == Stage.QUOTED
