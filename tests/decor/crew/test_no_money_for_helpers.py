"""No page that a helper may open shows a price, a client's money or a setting.

Each is opened for a job with everything on it that costs: a sent quote, a schedule, payments.
"""

import re
from datetime import UTC, datetime, time, timedelta
from io import BytesIO
from typing import Any

import pytest
from django.db.models import Model
from django.test import Client as Browser
from django.urls import reverse
from django.utils.html import strip_tags
from pypdf import PdfReader

from decor.calendar.feeds import feed_make
from decor.crew.access import HELPER_MAY, LEAVING
from decor.jobs.photos import photos_add, photos_read
from decor.models import CalendarFeed, Job, JobPhoto, MakingSession, Visit
from decor.models.job import Stage
from decor.models.payment import DueKind, Means
from decor.models.visit import VisitKind
from decor.payments.service import PlannedDue, payment_take, schedule_set
from inventory.catalogue.starter import add_starter_catalogue
from quoting.models import Edition, Piece
from tests.conftest import TODAY
from tests.decor.pictures import image_file
from tests.decor.test_every_page_needs_login import PATTERNS, address_of
from tests.factories import ExtraLineFactory, PieceFactory, QuoteFactory
from tests.quoting.quotes.sending import send

NOW = datetime(2026, 6, 13, 15, tzinfo=UTC)
CURRENCY = re.compile(r"[$€£]|\bUSD\b")
# An amount with its cents that no unit follows, such as a length's.
CENTS = re.compile(r"\b\d[\d,]*\.\d\d\b(?!\s*(?:m\b|cm|ft|in\b|m/s|km|h\b|%))")
# So that none of them is looked through empty.
SAY_THE_JOB = (
    "work_today", "making_sheet", "making_day", "visit_page", "calendar_agenda", "feed",
)  # fmt: skip
# What a form or a script holds is said too.
TYPED = re.compile(r'\b(?:value|placeholder|data-[a-z-]+)="([^"]*)"')
# By the beginning of a page's name, whose key stands in its address; others are a job's.
WHOSE: dict[str, type[Model]] = {
    "photo": JobPhoto,
    "visit": Visit,
    "session": MakingSession,
    "calendar_feed_": CalendarFeed,
    "piece": Piece,
}


@pytest.fixture
def job(business: Any, time_machine: Any) -> Job:
    time_machine.move_to(NOW, tick=False)
    add_starter_catalogue()
    quote = QuoteFactory(number="LL-1042")
    PieceFactory(quote=quote)
    ExtraLineFactory(quote=quote, unit_cents=65_17)
    job = quote.job
    photos_add(job=job, pictures=photos_read([image_file()]).pictures)
    edition = send(quote)
    Job.objects.filter(pk=job.pk).update(stage=Stage.PROMISED)
    job.refresh_from_db()
    rest = PlannedDue(DueKind.BALANCE, TODAY + timedelta(days=2), edition.total_cents - 123_45)
    due = PlannedDue(DueKind.DEPOSIT, TODAY, 123_45)
    schedule_set(job=job, dues=[due, rest], source="LL-1042", now=NOW)
    payment_take(job=job, amount_cents=77_31, means=Means.CASH, on=TODAY, note="", by=None, now=NOW)
    starts_at = datetime.combine(job.event_on, time(13), tzinfo=UTC)
    Visit.objects.create(
        job=job,
        kind=VisitKind.INSTALL,
        starts_at=starts_at,
        ends_at=starts_at + timedelta(hours=2),
        changed_at=NOW,
    )
    MakingSession.objects.create(job=job, on=TODAY, minutes=120, changed_at=NOW)
    return job


def whose_key(name: str, job: Job) -> int:
    model = next((model for start, model in WHOSE.items() if name.startswith(start)), Job)
    return job.pk if model is Job else model.objects.first().pk


def said_by(reply: Any) -> str:
    kind = reply["Content-Type"]
    if kind.startswith("image/"):
        return ""
    body = b"".join(reply) if reply.streaming else reply.content
    if kind == "application/pdf":
        return "\n".join(page.extract_text() for page in PdfReader(BytesIO(body)).pages)
    page = body.decode()
    return "\n".join((strip_tags(page), *TYPED.findall(page)))


def test_no_page_for_helpers_says_what_anything_costs(helpers_browser, tomas, job):
    _, token = feed_make(user=tomas.user, label="Phone", now=NOW)
    edition = Edition.objects.get()
    cents = (edition.total_cents, edition.net_cents, 123_45, 77_31, 65_17)
    amounts = {f"{amount / 100:,.2f}" for amount in cents}
    opened: dict[str, str] = {}
    for pattern in PATTERNS:
        if pattern.name not in HELPER_MAY - LEAVING:
            continue
        reply = helpers_browser.get(address_of(pattern, pk=whose_key(pattern.name, job)))
        assert reply.status_code in (200, 302, 405), pattern.name
        if reply.status_code == 200:
            opened[pattern.name] = said_by(reply)
    opened["feed"] = said_by(Browser().get(reverse("calendar_feed", args=[token])))
    for name, said in opened.items():
        assert not CURRENCY.findall(said), name
        assert not CENTS.findall(said), name
        assert not [amount for amount in amounts if amount in said], name
    for name in (
        "work_today",
        "making_sheet",
        "making_day",
        "visit_page",
        "calendar_agenda",
        "feed",
    ):
        assert job.title in opened[name], name


@pytest.mark.parametrize("said", ["$12", "a total of 1,234.50", "12.50 due", "€ 5", "USD"])
def test_the_look_for_money_finds_it(said):
    assert CURRENCY.search(said) or CENTS.search(said)


@pytest.mark.parametrize("said", ["2.40 m", "40 clusters", "0.35 m apart", "12 ft 6 in", "14:30"])
def test_a_length_is_not_money(said):
    assert not CURRENCY.search(said) and not CENTS.search(said)
