"""Every address there is, tried by a helper: it is in the helper's list, or it is refused."""

from datetime import timedelta

import pytest
from django.contrib.auth import get_user_model
from django.test import Client as Browser
from django.urls import reverse
from django.utils import timezone

from decor.crew.access import HELPER_MAY, HELPERS_HOME, LEAVING
from decor.jobs.photos import photos_add, photos_read
from decor.models import CrewMember, Visit
from decor.models.crew import Role
from decor.models.job import Stage
from tests.decor.pictures import image_file
from tests.decor.test_every_page_needs_login import PATTERNS, address_of
from tests.factories import JobFactory

REFUSED = "Your login may not open this page."


def is_refused(reply) -> bool:
    return reply.status_code == 403 and REFUSED in reply.text


@pytest.mark.parametrize("method", ["get", "post"])
def test_a_helper_opens_what_is_listed_and_nothing_else(helpers_browser, method):
    for pattern in PATTERNS:
        if pattern.name == "logout":
            continue
        reply = getattr(helpers_browser, method)(address_of(pattern))
        assert is_refused(reply) == (pattern.name not in HELPER_MAY), pattern.name
        assert reply.status_code < 500, pattern.name


def test_what_is_refused_shows_the_way_back(helpers_browser):
    page = helpers_browser.get(reverse("job_list")).text
    assert f'<a class="btn" href="{reverse("home")}">' in page


def test_every_name_in_the_list_is_a_page():
    assert {pattern.name for pattern in PATTERNS} >= HELPER_MAY


def test_a_new_page_is_refused_until_it_is_listed(helpers_browser, owner_client, settings):
    settings.ROOT_URLCONF = "tests.decor.crew.one_page_more"
    assert owner_client.get("/something-new/").text == "Something new"
    assert is_refused(helpers_browser.get("/something-new/"))
    assert is_refused(helpers_browser.post("/something-new/"))


def test_whoever_has_no_row_in_the_crew_is_the_owner(business):
    browser = Browser()
    browser.force_login(get_user_model().objects.create_superuser("nell", password="x"))
    assert browser.get(reverse("business_edit")).status_code == 200


def test_an_owner_in_the_crew_may_all(business, owner):
    CrewMember.objects.create(name="Nell", role=Role.OWNER, user=owner)
    browser = Browser()
    browser.force_login(owner)
    assert browser.get(reverse("business_edit")).status_code == 200


def test_a_helper_comes_to_the_work_there_is(helpers_browser):
    assert helpers_browser.get(reverse("home")).url == reverse(HELPERS_HOME)


def test_a_helper_sees_only_places_that_open(helpers_browser):
    page = helpers_browser.get(reverse(HELPERS_HOME)).text
    closed = [
        reverse(p.name) for p in PATTERNS if not p.pattern.converters and p.name not in HELPER_MAY
    ]
    assert len(closed) > 20
    assert not [address for address in closed if f'href="{address}"' in page]
    assert f'href="{reverse("own_password")}"' in page
    assert page.count("<span>Today</span>") == 1


def test_a_page_that_is_not_there_shows_a_helper_no_more_places(helpers_browser):
    reply = helpers_browser.get("/nothing-of-the-kind/")
    assert reply.status_code == 404
    assert reverse("enquiry_new") not in reply.text


def test_an_archived_helper_can_only_leave(helpers_browser, tomas):
    tomas.archived_at = timezone.now()
    tomas.save()
    for name in HELPER_MAY - LEAVING - {"photo", "photo_small"}:
        pattern = next(p for p in PATTERNS if p.name == name)
        assert is_refused(helpers_browser.get(address_of(pattern))), name
    assert helpers_browser.post(reverse("logout")).status_code == 302


@pytest.mark.parametrize(
    ("stage", "status"),
    [(Stage.QUOTED, 404), (Stage.PROMISED, 200), (Stage.UP, 200), (Stage.CALLED_OFF, 404)],
)
def test_a_helper_sees_photos_of_jobs_on_sheets_only(helpers_browser, owner_client, stage, status):
    job = JobFactory(stage=stage)
    photos_add(job=job, pictures=photos_read([image_file()]).pictures)
    for name in ("photo", "photo_small"):
        address = reverse(name, args=[job.photos.get().pk])
        assert helpers_browser.get(address).status_code == status
        assert owner_client.get(address).status_code == 200


def test_a_helper_takes_along_the_hours_of_visits_on_sheets_only(helpers_browser, owner_client):
    for stage, status in [(Stage.QUOTED, 404), (Stage.PROMISED, 200)]:
        job = JobFactory(stage=stage)
        starts_at = timezone.now()
        visit = Visit.objects.create(
            job=job,
            kind="install",
            starts_at=starts_at,
            ends_at=starts_at + timedelta(hours=1),
            changed_at=starts_at,
        )
        address = reverse("visit_ics", args=[visit.pk])
        assert helpers_browser.get(address).status_code == status
        assert owner_client.get(address).status_code == 200
