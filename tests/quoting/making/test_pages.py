"""The pages for the bench: without scripts, without prices, and for the whole of a day."""

import json
import re
from datetime import date, timedelta
from uuid import uuid4

import pytest
import time_machine
from django.test import Client as Browser
from django.urls import reverse

from decor.models import Job, MakingSession
from inventory.holds.service import used_for
from inventory.models import Item
from quoting.making.forms import HOW_LONG
from quoting.making.ticks import counts_of
from quoting.models import Popped, WorkTime
from tests.quoting.making.shop import NOW, bags_made, items_made, job_promised, tick


@pytest.fixture(autouse=True)
def at_the_bench():
    with time_machine.travel(NOW, tick=False):
        yield


@pytest.fixture
def job(business) -> Job:
    bags_made(items_made())
    return job_promised()


def step_of(job: Job, rest: str) -> str:
    return f"{job.quotes.get().pieces.get().pk}:{rest}"


def press(browser: Browser, job: Job, step: str, **said: object):
    posted = {"what": "tick", "key": uuid4(), "part": f"{job.pk}|{step}|36", **said}
    return browser.post(reverse("making_press", args=[job.pk]), posted, follow=True)


def test_the_sheet_says_everything_but_a_price(owner_client: Browser, job: Job):
    page = owner_client.get(reverse("making_sheet", args=[job.pk])).content.decode()
    for words in (
        "11-inch",
        "inflated to 6 to 10 in",
        "40 from lot A1, Cupboard",
        "Tie 24 pairs: 14 of 11-11, 8 of 11-17, 2 of 17-17.",
        "three quads of 5-inch: 12 balloons",
        "Marigold accents",
        "slack between the two points",
        "Hand pump only",
        "Large singles",
        "Oat 24-inch",
        "stays flat until the place",
        "Bag 1",
        "hangs",
    ):
        assert words in page, words
    assert not re.search(r"\$|price|margin|cost", page, re.IGNORECASE)


def test_without_scripts_a_button_counts_once_however_often_it_is_sent(
    owner_client: Browser, job: Job
):
    step, key = step_of(job, "base:oat:11"), uuid4()
    for _ in range(2):
        page = press(owner_client, job, step, quantity=10, key=key)
    assert counts_of(job) == {step: 10}
    assert page.redirect_chain[-1][0].startswith(reverse("making_sheet", args=[job.pk]))
    press(owner_client, job, step, quantity=-1)
    assert counts_of(job) == {step: 9}


def test_without_scripts_one_popped_is_one_press(owner_client: Browser, job: Job):
    oat = Item.objects.get(colour__key="oat", nominal_in=11)
    step, (first, *_) = step_of(job, "base:oat:11"), oat.bags.order_by("pk")
    press(owner_client, job, step, quantity=10)
    page = press(owner_client, job, step, what="popped", reason="leaked", bag=first.pk)
    lost = Popped.objects.get()
    assert (lost.bag, lost.replaced_from, lost.reason) == (first, first, "leaked")
    assert used_for(job)[oat.pk] == 11
    assert "Leaked from lot A1, Cupboard, replaced from lot A1, Cupboard" in page.content.decode()


def test_the_script_is_answered_with_what_stands(owner_client: Browser, job: Job):
    step = step_of(job, "base:oat:11")
    told = {"ticks": [tick(step, 10), tick("12:juggle:oat")]}
    url = reverse("making_told", args=[job.pk])
    answer = owner_client.post(url, json.dumps(told), content_type="application/json").json()
    assert answer["counts"] == {step: 10}
    assert answer["taken"] == [told["ticks"][0]["key"]]
    assert [each["key"] for each in answer["refused"]] == [told["ticks"][1]["key"]]
    assert answer["from"][step]["words"] == "30 from lot A1, Cupboard (open)"
    for broken in ("", "[]", '{"ticks": 3}'):
        sent = owner_client.post(url, broken, content_type="application/json")
        assert sent.status_code == 400


def test_a_clock_is_started_and_stopped_and_hours_of_400_are_refused(
    owner_client: Browser, job: Job
):
    url, clock = reverse("making_press", args=[job.pk]), {"what": "work", "phase": "pack"}
    key = uuid4()
    owner_client.post(url, {**clock, "key": key, "people": 2, "press": "start"})
    owner_client.post(url, {**clock, "key": uuid4(), "people": 2, "press": "start"})
    running = WorkTime.objects.get()
    with time_machine.travel(NOW + timedelta(minutes=25), tick=False):
        stop = {"press": "stop", "started_at": running.started_at.isoformat()}
        owner_client.post(url, {**clock, "key": key, "people": 2, **stop})
    assert WorkTime.objects.get().person_minutes == 50

    hours, typed = reverse("making_hours", args=[job.pk]), {"phase": "pack", "people": 3}
    refused = owner_client.post(hours, {**typed, "on": "2026-06-19", "hours": "400"})
    assert refused.status_code == 422
    assert HOW_LONG in refused.content.decode()
    assert 'value="400"' in refused.content.decode()
    owner_client.post(hours, {**typed, "on": "2026-06-19", "hours": "1.5"})
    assert WorkTime.objects.get(source="typed").person_minutes == 270


def test_the_jobs_of_a_day_are_merged_by_colour_with_the_share_of_each(
    owner_client: Browser, job: Job
):
    other = job_promised(title="Tea room window", event_on=date(2026, 6, 21))
    for each in (job, other):
        MakingSession.objects.create(job=each, on=date(2026, 6, 18), minutes=240, changed_at=NOW)
    url = reverse("making_day", args=[date(2026, 6, 18)])
    page = owner_client.get(url)
    card = page.context["sections"][0].cards[0]
    assert card.target == 2 * 36
    assert sum(each.quantity for each in card.bags.next) == 2 * 40
    assert [name for name, _ in card.named_shares] == [job.title, other.title]
    parts = [f"{share.job.pk}|{share.step.name}|{share.step.target}" for share in card.shares]
    said = {"what": "tick", "key": uuid4(), "part": parts, "quantity": 40}
    owner_client.post(reverse("making_day_press", args=[date(2026, 6, 18)]), said)
    assert list(counts_of(job).values()) == [36]
    assert list(counts_of(other).values()) == [4]
    alone = owner_client.get(reverse("making_sheet", args=[other.pk])).content.decode()
    assert "1 more job is made on Thursday 18 June" in alone and url in alone
    nothing = owner_client.get(reverse("making_day", args=[date(2026, 6, 19)]))
    assert "Nothing to make on this day" in nothing.content.decode()
    assert owner_client.get("/making/2026-02-31/").status_code == 404


def test_the_jobs_page_leads_to_the_sheet(owner_client: Browser, job: Job):
    press(owner_client, job, step_of(job, "base:oat:11"), quantity=36)
    page = owner_client.get(reverse("job_detail", args=[job.pk])).content.decode()
    assert reverse("making_sheet", args=[job.pk]) in page
    assert "16 %</span> made" in page


def test_the_worker_is_a_script_of_ours(owner_client: Browser, business):
    answer = owner_client.get(reverse("sheet_worker"))
    assert answer["Content-Type"] == "text/javascript"
    assert "networkFirst" in answer.content.decode()
