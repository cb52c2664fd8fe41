"""One day in the demo, from both sides: the owner sends, a client says yes on a small phone, the
deposit comes, another client wants the same hour, and the first calls off."""

import re
from collections.abc import Callable
from decimal import Decimal

import pytest
from django.core import mail
from django.urls import reverse
from django.utils import timezone
from playwright.sync_api import Page, expect

from decor.models import Job, Visit
from decor.models.job import Stage
from decor.payments.account import account_of
from inventory.models.hold import HoldState
from quoting.estimator.money import round_cents
from quoting.models import ClientAnswer
from quoting.models.client_page import Outcome
from tests.browser.conftest import LAPTOP, log_in

SMALL_PHONE = {"width": 360, "height": 740}
FIRST, SECOND = "Lantern walk", "Gallery opening"
LINK = re.compile(r"http://[^/]+(/q/\S+)")
SIDEWAYS = "document.documentElement.scrollWidth > window.innerWidth"


@pytest.fixture
def owner(page_at, demo) -> Page:
    return log_in(page_at(LAPTOP))


def job(title: str) -> Job:
    return Job.objects.get(title=title)


def open_job(page: Page, title: str) -> None:
    page.goto(reverse("job_detail", args=[job(title).pk]))


def letter_with_link(page: Page, title: str) -> str:
    """What the owner sends, and the path of the address in it."""
    open_job(page, title)
    page.get_by_role("link", name="Write a letter").click()
    page.get_by_role("link", name="Quote", exact=True).click()
    page.get_by_role("button", name="Send the letter").click()
    expect(page.locator(".messages")).to_be_visible()
    return LINK.search(mail.outbox[-1].body)[1]


def open_page(page_at: Callable, address: str) -> Page:
    page = page_at(SMALL_PHONE)
    page.goto(address)
    assert "/q/" not in page.url  # the token is not kept in the address
    assert not page.evaluate(SIDEWAYS)
    return page


def pay_what_is_due_next(page: Page, title: str) -> None:
    open_job(page, title)
    page.get_by_role("link", name="Enter a payment").click()
    page.get_by_role("button", name="Enter the payment").click()
    expect(page.locator(".messages")).to_be_visible()


def test_a_promise_is_made_kept_and_called_off(page_at, owner):
    address = letter_with_link(owner, FIRST)
    other_address = letter_with_link(owner, SECOND)

    client = open_page(page_at, address)
    client.get_by_role("radio", name=re.compile("^B")).check()
    client.get_by_label("I have read the terms").check()
    client.get_by_label("Your name").fill("Bettina Marsh")
    client.get_by_role("button", name="Accept this quote").click()
    expect(client.get_by_role("heading", name="Thank you, you accepted this quote")).to_be_visible()
    answer = ClientAnswer.objects.get(edition__quote__job__title=FIRST)
    assert (answer.typed_name, answer.outcome) == ("Bettina Marsh", Outcome.HELD)
    assert answer.total_cents < answer.edition.total_cents  # B is the slimmer one
    assert mail.outbox[-1].attachments[0][0].endswith(".pdf")
    assert job(FIRST).stage == Stage.PROMISED
    assert set(job(FIRST).holds.values_list("state", flat=True)) == {HoldState.SOFT}

    pay_what_is_due_next(owner, FIRST)
    account = account_of(job(FIRST), today=timezone.localdate())
    assert account.deposit_is_in and account.owed_cents == answer.total_cents
    assert set(job(FIRST).holds.values_list("state", flat=True)) == {HoldState.FIRM}

    visit = Visit.objects.get(job__title=FIRST, kind="install")
    on = timezone.localdate(visit.starts_at)
    for address in (reverse("home"), f"{reverse('calendar_agenda')}?from={on:%Y-%m-%d}"):
        owner.goto(address)
        sheet = owner.locator(f"main a[href='{reverse('visit_page', args=[visit.pk])}']")
        expect(sheet.first).to_contain_text(FIRST)

    other = open_page(page_at, other_address)
    expect(other.get_by_role("heading", name="This time has just been taken")).to_be_visible()
    expect(other.get_by_role("button", name="Accept this quote")).to_have_count(0)
    assert job(SECOND).stage == Stage.QUOTED

    pay_what_is_due_next(owner, FIRST)
    open_job(owner, FIRST)
    owner.locator("summary", has_text="Call this job off").click()
    owner.get_by_role("link", name="Look at the sums").click()
    owner.get_by_label("Why").fill("Snow is forecast")
    owner.get_by_role("button", name="Call it off").click()
    expect(owner.get_by_text("To give back")).to_be_visible()
    called = job(FIRST)
    assert called.stage == Stage.CALLED_OFF
    assert set(called.holds.values_list("state", flat=True)) == {HoldState.RELEASED}
    assert not called.visits.filter(called_off_at=None).exists()
    account = account_of(called, today=timezone.localdate())
    assert account.paid_cents == answer.total_cents
    # 13 days before, the card keeps three quarters.
    assert account.owed_cents == round_cents(Decimal(answer.total_cents) * 3 / 4)
    assert account.refund_due_cents == answer.total_cents - account.owed_cents
