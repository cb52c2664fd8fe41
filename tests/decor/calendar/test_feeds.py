import re
from datetime import timedelta

import pytest
import time_machine
import vobject
from django.contrib.auth.models import User
from django.urls import reverse

from decor.calendar.feed_views import MOST
from decor.calendar.feeds import feed_make, feed_of_token, feed_revoke, feed_url
from decor.calendar.ics import event_ics
from decor.calendar.visits import visit_call_off, visit_move
from decor.models import CalendarFeed, CrewMember, PaymentDue
from decor.models.crew import Role
from tests.decor.calendar.planning import NOW, SATURDAY, at, job_at, nell_and_tomas, plan
from tests.factories import UserFactory

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def on_the_13th():
    with time_machine.travel(NOW, tick=False):
        yield


@pytest.fixture
def address(owner) -> str:
    _, token = feed_make(user=owner, label="my phone", now=NOW)
    return reverse("calendar_feed", args=[token])


def read(browser, address: str) -> dict[str, vobject.base.Component]:
    calendar = vobject.readOne(browser.get(address).content.decode())
    return {event.uid.value: event for event in calendar.contents.get("vevent", [])}


def test_a_phone_without_a_login_reads_and_only_a_fingerprint_is_kept(client, business, address):
    visit = plan("09:00", "11:00", job=job_at("Harrow Hill"))
    reply = client.get(address)
    assert reply["Content-Type"] == "text/calendar; charset=utf-8"
    assert "no-store" in reply["Cache-Control"]
    (event,) = read(client, address).values()
    assert event.summary.value == "Install: Finish-line posts"
    assert event.dtstart.value == visit.starts_at
    assert event.location.value.startswith("Harrow Hill")
    assert "Wexcombe Bay Library, (207) 555-0142" in event.description.value
    token = address.split("/")[-1].removesuffix(".ics")
    feed = CalendarFeed.objects.get()
    assert token not in (feed.token_sha256, feed.label)
    assert (len(token), feed.last_read_at) == (43, NOW)


def test_the_same_event_keeps_its_uid_when_it_moves_and_says_when_it_is_off(
    client, business, address
):
    visit = plan("09:00", "11:00")
    (uid,) = read(client, address)
    later = NOW + timedelta(hours=1)
    visit_move(visit=visit, starts_at=at("10:00"), ends_at=at("12:00"), now=later)
    moved = read(client, address)[uid]
    assert (moved.sequence.value, moved.dtstart.value) == ("1", at("10:00"))
    assert moved.last_modified.value == later
    assert moved.status.value == "CONFIRMED"
    visit_call_off(visit=visit, now=later + timedelta(hours=1))
    off = read(client, address)[uid]
    assert (off.sequence.value, off.status.value) == ("2", "CANCELLED")


def test_a_revoked_address_a_guessed_one_and_a_user_put_off_open_nothing(client, business, owner):
    feed, token = feed_make(user=owner, label="", now=NOW)
    address = reverse("calendar_feed", args=[token])
    assert client.get(address).status_code == 200
    User.objects.update(is_active=False)
    assert client.get(address).status_code == 404
    User.objects.update(is_active=True)
    feed_revoke(feed=feed, now=NOW)
    assert client.get(address).status_code == 404
    assert client.get(reverse("calendar_feed", args=["a" * 43])).status_code == 404
    assert client.get(reverse("calendar_feed", args=[feed.token_sha256])).status_code == 404
    assert client.post(address).status_code == 405
    for odd in ("..", "%00", "é", "a" * 4000):
        assert client.get(f"/calendar/feed/{odd}.ics").status_code == 404


def test_guessing_is_slowed_down(client, business, address):
    codes = [client.get("/calendar/feed/guess.ics").status_code for _ in range(MOST + 1)]
    assert codes == [404] * MOST + [429]
    assert client.get(address).status_code == 429
    elsewhere = client.get(address, REMOTE_ADDR="203.0.113.9")
    assert elsewhere.status_code == 200


def test_a_helper_s_feed_has_no_money_and_no_client_s_phone(client, business):
    _, tomas = nell_and_tomas()
    tomas.user = User.objects.create_user("tomas")
    tomas.save()
    job = job_at("Harrow Hill")
    visit = plan("09:00", "11:00", job=job)
    PaymentDue.objects.create(
        job=job, kind="deposit", due_on=SATURDAY, amount_cents=12345, set_at=NOW
    )
    texts = {}
    for user in (UserFactory(), tomas.user):
        _, token = feed_make(user=user, label="", now=NOW)
        texts[user.username] = client.get(reverse("calendar_feed", args=[token])).text
    owners, helpers = (re.sub(r"\r\n ", "", texts[name]) for name in ("nell", "tomas"))
    assert "123.45" in owners and "555-0142" in owners
    assert "123.45" not in helpers and "555-0142" not in helpers and "Money" not in helpers
    assert f"visit-{visit.pk}@" in helpers
    CrewMember.objects.filter(pk=tomas.pk).update(archived_at=NOW)
    assert feed_of_token(token) is None


def test_an_address_is_made_shown_once_and_revoked_after_asking(owner_client, owner):
    page = reverse("calendar_feeds")
    assert "None yet" in owner_client.get(page).text
    assert owner_client.post(page, {"label": " "}).status_code == 422
    made = owner_client.post(page, {"label": "my phone"})
    address = made.context["address"]
    assert address in made.text and "no-store" in made["Cache-Control"]
    again = owner_client.get(page).text
    assert "my phone" in again and address not in again
    feed = CalendarFeed.objects.get()
    assert feed_url(address.split("/")[-1].removesuffix(".ics")) == address
    revoke = reverse("calendar_feed_revoke", args=[feed.pk])
    assert "Revoke the address" in owner_client.get(revoke).text
    assert CalendarFeed.objects.get().revoked_at is None
    owner_client.post(revoke)
    assert CalendarFeed.objects.get().revoked_at == NOW


def test_nobody_revokes_another_s_address(owner_client):
    feed, _ = feed_make(user=User.objects.create_user("tomas"), label="", now=NOW)
    assert owner_client.post(reverse("calendar_feed_revoke", args=[feed.pk])).status_code == 404


def test_one_visit_for_the_client_says_what_to_expect_and_nothing_of_ours(business):
    nell = CrewMember.objects.create(name="Nell", role=Role.OWNER)
    visit = plan("09:00", "11:00", note="They pay late", crew=[nell], job=job_at("Harrow Hill"))
    text = event_ics(visit, now=NOW).decode()
    calendar = vobject.readOne(text)
    event = calendar.vevent
    assert calendar.method.value == "PUBLISH"
    assert event.summary.value == "Larkspur Lane Garlands: we hang your garland"
    assert event.description.value == (
        "Expect us between 9 a.m. and 9:30 a.m.\nQuestions: (207) 555-0101"
    )
    assert event.organizer.value == "mailto:nell@larkspurlane.example"
    assert event.dtstamp.value == NOW
    assert "late" not in text and "Nell" not in text
    assert text.count("BEGIN:VTIMEZONE") == 1
    visit_call_off(visit=visit, now=NOW)
    off = vobject.readOne(event_ics(visit, now=NOW).decode())
    assert (off.method.value, off.vevent.status.value) == ("CANCEL", "CANCELLED")
    assert off.vevent.uid.value == event.uid.value


def test_a_visit_is_a_file_for_the_owner_s_calendar(owner_client):
    visit = plan("09:00", "11:00")
    reply = owner_client.get(reverse("visit_ics", args=[visit.pk]))
    assert reply["Content-Type"] == "text/calendar; charset=utf-8"
    assert reply["Content-Disposition"].endswith('.ics"')
