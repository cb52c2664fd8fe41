from datetime import UTC, datetime

import pytest
from django.urls import reverse

from decor.clients.forms import NO_WAY_TO_REACH, PHONE_IS_SHORT
from decor.models import Client, Site
from tests.factories import BusinessFactory, ClientFactory, JobFactory, SiteFactory

JANUARY = datetime(2026, 1, 1, tzinfo=UTC)
LIBRARY = {
    "name": "Wexcombe Bay Library",
    "email": "reading@wexcombebay.example",
    "phone": "",
    "other_contact": "",
    "note": "",
}


def url(name: str, pk: int) -> str:
    return reverse(name, args=[pk])


def listed(owner_client, **asked) -> list[str]:
    page = owner_client.get(reverse("client_list"), asked).context["page"]
    return [client.name for client in page]


# ---- The list


def test_clients_are_listed_by_name_with_their_jobs_counted(owner_client):
    library = ClientFactory()
    ClientFactory(name="Brannigan twins", phone="207 555 0177")
    JobFactory(client=library, site=None)
    page = owner_client.get(reverse("client_list"))
    assert [client.name for client in page.context["page"]] == ["Brannigan twins", library.name]
    assert "1 job<" in page.text and "0 jobs<" in page.text


@pytest.mark.parametrize(
    "search", ["library", "BAY wex", "reading@", "wexcombebay.example", "555-0142", "2075550142"]
)
def test_a_client_is_found_by_any_detail(owner_client, search):
    ClientFactory()
    ClientFactory(name="Brannigan twins", email="", phone="208 555 0177")
    assert listed(owner_client, search=search) == ["Wexcombe Bay Library"]


def test_archived_clients_have_their_own_list(owner_client):
    ClientFactory(archived_at=JANUARY)
    assert listed(owner_client) == []
    assert listed(owner_client, archived="yes") == ["Wexcombe Bay Library"]


def test_an_empty_list_says_where_clients_come_from(owner_client):
    assert "Clients come with their first enquiry" in owner_client.get(reverse("client_list")).text


def test_a_search_that_finds_nobody_says_what_to_try(owner_client):
    ClientFactory()
    page = owner_client.get(reverse("client_list"), {"search": "Tomas"}).text
    assert "last digits of a phone number" in page


def test_what_no_text_can_hold_is_not_searched_for(owner_client):
    ClientFactory()
    assert listed(owner_client, search="\0library") == ["Wexcombe Bay Library"]


# ---- The page


def test_the_page_shows_contacts_as_links_jobs_and_places(owner_client):
    job = JobFactory()
    page = owner_client.get(url("client_detail", job.client.pk)).text
    for words in (
        'href="tel:2075550142"',
        'href="mailto:reading@wexcombebay.example"',
        url("job_detail", job.pk),
        url("site_edit", job.site.pk),
        f"{reverse('enquiry_new')}?client={job.client.pk}",
    ):
        assert words in page


def test_an_email_with_a_question_mark_cannot_add_to_the_letter(owner_client):
    client = ClientFactory(email="a?bcc=b&c@lane.example")
    assert "a%3Fbcc%3Db%26c@lane.example" in owner_client.get(url("client_detail", client.pk)).text


def test_a_client_taken_down_twice_is_pointed_out(owner_client):
    one, other = ClientFactory(), ClientFactory(name="The library", email="", phone="555-0142")
    page = owner_client.get(url("client_detail", one.pk)).text
    assert "Perhaps taken down twice" in page
    assert url("client_detail", other.pk) in page


# ---- Editing


def test_a_client_is_edited(owner_client):
    client = ClientFactory()
    said = {**LIBRARY, "name": "The Library", "phone": "207 555 0199"}
    assert owner_client.post(url("client_edit", client.pk), said).status_code == 302
    client.refresh_from_db()
    assert (client.name, client.phone_key) == ("The Library", "2075550199")


@pytest.mark.parametrize(
    ("change", "field", "message"),
    [
        ({"name": ""}, "name", "required"),
        ({"email": ""}, "email", NO_WAY_TO_REACH),
        ({"email": "reading@"}, "email", "valid email"),
        ({"phone": "12"}, "phone", PHONE_IS_SHORT),
        ({"note": "n" * 4001}, "note", "at most 4000"),
    ],
)
def test_a_mistake_in_a_client_is_said_and_nothing_is_lost(owner_client, change, field, message):
    client = ClientFactory()
    said = {**LIBRARY, "other_contact": "", "note": "Just typed", **change}
    reply = owner_client.post(url("client_edit", client.pk), said)
    assert reply.status_code == 422
    assert message in reply.context["form"].errors[field][0]
    assert said["note"] in reply.text
    client.refresh_from_db()
    assert client.note == ""


# ---- Putting away


def test_an_archived_client_is_kept_and_comes_back(owner_client):
    client = ClientFactory()
    assert "is archived" in owner_client.post(url("client_archive", client.pk), follow=True).text
    client.refresh_from_db()
    assert client.is_archived
    back = owner_client.post(url("client_bring_back", client.pk), follow=True)
    assert "is back" in back.text
    client.refresh_from_db()
    assert not client.is_archived


def test_archiving_a_client_twice_keeps_the_first_day(owner_client):
    client = ClientFactory(archived_at=JANUARY)
    owner_client.post(url("client_archive", client.pk))
    client.refresh_from_db()
    assert client.archived_at == JANUARY


@pytest.mark.parametrize("name", ["client_archive", "client_bring_back"])
def test_what_changes_a_client_is_never_done_by_a_link(owner_client, name):
    assert owner_client.get(url(name, ClientFactory().pk)).status_code == 405


@pytest.mark.parametrize("name", ["client_detail", "client_edit", "site_add", "site_edit"])
def test_who_is_not_there_is_not_found(owner_client, name):
    assert owner_client.get(url(name, 404)).status_code == 404


def test_the_list_and_the_page_take_no_post(owner_client):
    assert owner_client.post(reverse("client_list")).status_code == 405
    assert owner_client.post(url("client_detail", ClientFactory().pk)).status_code == 405


# ---- Places

PORCH = {"name": "Front porch", "address": "9 Gull Lane", "access_note": "Mind the dog"}


def test_a_place_is_added_in_miles_and_kept_in_metres(owner_client):
    """1 mile = 1609.344 m exactly (international yard and pound agreement of 1959)."""
    client = ClientFactory()
    said = {**PORCH, "is_outdoor": "on", "distance_m": "4.5", "drive_minutes": "14"}
    reply = owner_client.post(url("site_add", client.pk), said)
    assert reply.url == url("client_detail", client.pk)
    site = Site.objects.get()
    assert (site.client, site.is_outdoor, site.drive_minutes) == (client, True, 14)
    assert site.distance_m == 7242  # 4.5 x 1609.344 = 7242.048
    assert 'value="4.5"' in owner_client.get(url("site_edit", site.pk)).text


def test_a_metric_business_says_kilometres(owner_client):
    BusinessFactory._meta.model.objects.update(units="metric")
    site = SiteFactory(distance_m=12_500)
    page = owner_client.get(url("site_edit", site.pk)).text
    assert "Distance in km, one way" in page
    assert 'value="12.5"' in page
    owner_client.post(url("site_edit", site.pk), {**PORCH, "distance_m": "0,8 km"})
    site.refresh_from_db()
    assert site.distance_m == 800


def test_from_a_job_one_goes_back_to_the_job(owner_client):
    job = JobFactory()
    reply = owner_client.post(f"{url('site_edit', job.site.pk)}?job={job.pk}", PORCH)
    assert reply.url == url("job_detail", job.pk)


def test_the_job_of_someone_else_is_no_way_back(owner_client):
    site, job = SiteFactory(), JobFactory(client__name="Brannigans")
    reply = owner_client.post(f"{url('site_edit', site.pk)}?job={job.pk}", PORCH)
    assert reply.url == url("client_detail", site.client.pk)


@pytest.mark.parametrize(
    ("change", "field", "message"),
    [
        ({"name": ""}, "name", "required"),
        ({"distance_m": "far"}, "distance_m", "Write a distance such as 12.5 miles"),
        ({"distance_m": "nan"}, "distance_m", "Write a distance"),
        ({"distance_m": "-1"}, "distance_m", "Between 0 and 3106 miles"),
        ({"distance_m": "1e9"}, "distance_m", "Between 0 and"),
        ({"drive_minutes": "-5"}, "drive_minutes", "greater than or equal to 0"),
        ({"drive_minutes": "99999"}, "drive_minutes", "At most 4320 minutes"),
        ({"drive_minutes": "9" * 40}, "drive_minutes", "At most 4320 minutes"),
        ({"drive_minutes": "1.5"}, "drive_minutes", "whole number"),
    ],
)
def test_a_mistake_in_a_place_is_said_and_nothing_is_lost(owner_client, change, field, message):
    client = ClientFactory()
    reply = owner_client.post(url("site_add", client.pk), {**PORCH, **change})
    assert reply.status_code == 422
    assert message in reply.context["form"].errors[field][0]
    assert "Mind the dog" in reply.text
    assert not Site.objects.exists() and Client.objects.count() == 1
