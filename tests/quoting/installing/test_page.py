import io
import re
from datetime import timedelta
from uuid import uuid4

import pytest
import time_machine
from django.urls import reverse
from pypdf import PdfReader

from quoting.installing.sheet import visit_sheet
from quoting.models import WorkReceipt
from tests.decor.pictures import bytes_named, image_file, png_that_claims
from tests.quoting.installing.conftest import NOW, visit_of


@pytest.fixture
def noon():
    with time_machine.travel(NOW, tick=False):
        yield


def test_the_page_says_who_where_when_what_and_never_a_price(owner_client, install, noon):
    page = owner_client.get(reverse("visit_page", args=[install.pk])).content.decode()
    for said in (
        "Saturday 20 June, 9 a.m.", "Ottilie at the desk", "tel:2075550177",
        install.job.client.name + ", <a", "Ring at the side door.", "Two places behind the hall.",
        "from the left foot",
        "bunch of accents", "large single", "anchors: one every", "Before you leave",
        "Leaning at 8 ft 6 in, its foot stands 2 ft 2 in out",
        "2 × Tall stand", "data-kind=\"latex\"",
    ):  # fmt: skip
        assert said in page, said
    assert not re.search(r"[$€£]\s?\d", page)


def test_sunset_and_latest_start_are_those_of_the_place_and_day(install):
    """Sunset in Portland, Maine on 20 June: 20:26 local, from the almanac (from memory); astral
    agrees within a minute."""
    sheet = visit_sheet(install, now=NOW, with_pictures=False)
    assert sheet.sunset in {"8:25 p.m.", "8:26 p.m.", "8:27 p.m."}
    hour, minute = re.match(r"(\d+):(\d+) p.m.", sheet.latest_start).groups()
    assert (int(hour), int(minute)) < (8, 0)  # half an hour to spare, and the work


def test_a_typed_forecast_changes_the_cautions_and_wrong_numbers_lose_nothing(
    owner_client, install, noon
):
    address = reverse("visit_forecast", args=[install.pk])
    refused = owner_client.post(address, {"gust": "rather a lot", "source": "harbour office"})
    assert refused.status_code == 422
    assert b"Write a wind speed" in refused.content
    assert b'value="harbour office"' in refused.content
    kept = owner_client.post(address, {"gust": "40 mph", "source": "harbour office"}, follow=True)
    assert b"your own limit is" in kept.content
    assert b"Read Friday 19 June, 8 a.m., harbour office" in kept.content
    calm = owner_client.post(address, {"gust": "3 mph"}, follow=True)
    assert b"your own limit is" not in calm.content


def test_a_name_and_a_photo_are_taken_and_what_is_no_photo_loses_nothing(
    owner_client, install, noon
):
    address = reverse("visit_sign", args=[install.pk])
    fake = bytes_named("a.jpg", b"not a picture")
    refused = owner_client.post(address, {"typed_name": "Ottilie <b>", "photo": fake})
    assert refused.status_code == 422
    assert b"not a picture we can read" in refused.content
    assert b'value="Ottilie &lt;b&gt;"' in refused.content
    bomb = bytes_named("a.png", png_that_claims(30_000, 30_000))
    assert (
        b"Ottilie" in owner_client.post(address, {"typed_name": "Ottilie", "photo": bomb}).content
    )
    assert not WorkReceipt.objects.exists()
    photo = image_file()
    signed = owner_client.post(
        address, {"typed_name": "Ottilie <b>", "note": "Lovely", "photo": photo}, follow=True
    )
    assert b"<strong>Ottilie &lt;b&gt;</strong>" in signed.content
    assert WorkReceipt.objects.get().photo.job == install.job
    again = owner_client.post(address, {"typed_name": "Another"}, follow=True)
    assert b"signed for this already" in again.content


def test_checks_and_clocks_are_pressed_without_a_script_too(owner_client, install, noon):
    address = reverse("visit_check", args=[install.pk])
    marked = owner_client.post(address, {"key": "photo-taken", "done": "yes"}, follow=True)
    assert b'aria-pressed="true"' in marked.content
    whole = owner_client.post(address, {"key": "photo-taken", "done": "no"}, follow=True)
    assert b'aria-pressed="true"' not in whole.content
    other = owner_client.post(address, {"key": "nothing", "done": "yes"}, follow=True)
    assert b"not on this list" in other.content
    press = {"what": "work", "phase": "hang", "people": "2", "visit": install.pk, "key": uuid4()}
    running = owner_client.post(
        reverse("visit_clock", args=[install.pk]), press | {"press": "start"}, follow=True
    )
    assert b"running since 8 a.m." in running.content
    clock = install.job.work_times.get()
    assert (clock.phase, clock.people, clock.visit, clock.minutes) == ("hang", 2, install, None)


def test_what_a_phone_ticked_without_a_network_is_taken_once_and_in_its_order(
    owner_client, install, noon
):
    def press(check: str, done: bool, *, second: int) -> dict[str, object]:
        at = (NOW - timedelta(minutes=5) + timedelta(seconds=second)).isoformat()
        return {"key": str(uuid4()), "check": check, "done": done, "at": at}

    address = reverse("visit_told", args=[install.pk])
    told = [
        press("photo-taken", True, second=4),
        press("top-not-drooping", False, second=3),
        press("top-not-drooping", True, second=1),
        press("nothing", True, second=2),
        {"key": "no key", "check": "photo-taken", "done": False},
    ]
    for _ in range(2):
        reply = owner_client.post(address, {"checks": told}, content_type="application/json")
        assert reply.status_code == 200
        said = reply.json()
        assert said["checks"] == ["photo-taken"]
        assert set(said["taken"]) == {each["key"] for each in told[:3]}
        assert [each["key"] for each in said["refused"]] == [told[3]["key"], "no key"]
    assert install.check_marks.get().at == NOW - timedelta(minutes=5, seconds=-4)
    for wrong in ("[]", "{", '{"checks": 3}'):
        assert owner_client.post(address, wrong, content_type="application/json").status_code == 400


def test_a_revisit_lists_what_is_taken_along(owner_client, quote, install, noon):
    revisit = visit_of(quote, "revisit", day=21)
    address = reverse("visit_take", args=[revisit.pk])
    refused = owner_client.post(address, {"item": "", "quantity": "-3"})
    assert refused.status_code == 422
    assert b'value="-3"' in refused.content


def test_the_pdf_has_the_string_and_room_to_sign(owner_client, install, noon):
    reply = owner_client.get(reverse("visit_pdf", args=[install.pk]))
    assert reply["Content-Type"] == "application/pdf"
    pages = PdfReader(io.BytesIO(reply.content)).pages
    text = "\n".join(page.extract_text() for page in pages)
    assert len(pages) <= 2
    for said in ("String, in this order", "Taken over by", "Ottilie at the desk", "Latest start"):
        assert said in text, said
    assert "$" not in text
