from datetime import date

import pytest
import time_machine
from django.urls import reverse

from decor.jobs.days import DAY_HAS_GONE, DAY_IS_FAR
from decor.jobs.enquiry_form import CONTACT_MISSING, NAME_MISSING, NO_SUCH_CLIENT
from decor.models import Client, Job, JobPhoto
from tests.decor.pictures import SVG, bytes_named, image_file
from tests.factories import ClientFactory

NEW = "/jobs/new/"
SAID = {
    "name": "The Brannigans",
    "contact": "(207) 555-0177",
    "event_on": "2026-06-27",
    "event_time": "14:30",
    "place": "Front porch",
    "is_outdoor": "yes",
    "title": "Sixth birthday",
    "note": "Marigold & plum",
}


@pytest.fixture(autouse=True)
def frozen(today):
    with time_machine.travel(f"{today}T15:00Z", tick=False):
        yield


def test_an_enquiry_is_taken_and_leads_to_its_job(owner_client):
    reply = owner_client.post(NEW, SAID)
    job = Job.objects.get()
    assert reply.url == reverse("job_detail", args=[job.pk])
    assert (job.client.phone, job.event_on) == ("(207) 555-0177", date(2026, 6, 27))
    assert job.stage_moves.get().moved_by.username == "nell"
    assert "Sixth birthday: taken down." in owner_client.get(reply.url).text


def test_the_empty_page_asks_only_for_name_and_contact(owner_client):
    page = owner_client.get(NEW).text
    assert page.count("requiredField") == 2
    assert "Is it one of these?" not in page


@pytest.mark.parametrize(
    ("change", "field", "message"),
    [
        ({"name": ""}, "name", NAME_MISSING),
        ({"contact": ""}, "contact", CONTACT_MISSING),
        ({"contact": "nell@"}, "contact", "not complete"),
        ({"event_on": "2026-06-12"}, "event_on", DAY_HAS_GONE),
        ({"event_on": "2126-06-12"}, "event_on", DAY_IS_FAR),
        ({"event_on": "2026-02-30"}, "event_on", "valid date"),
        ({"event_time": "25:00"}, "event_time", "valid time"),
        ({"note": "n" * 4001}, "note", "at most 4000"),
        ({"name": "n" * 121}, "name", "at most 120"),
        ({"who": "99999"}, "who", NO_SUCH_CLIENT),
        ({"who": "drop table"}, "who", NO_SUCH_CLIENT),
        ({"is_outdoor": "perhaps"}, "is_outdoor", "valid choice"),
    ],
)
def test_a_mistake_is_said_beside_its_field_and_nothing_typed_is_lost(
    owner_client, change, field, message
):
    said = {**SAID, **change}
    reply = owner_client.post(NEW, said)
    assert reply.status_code == 422
    assert message in reply.context["form"].errors[field][0]
    assert not Job.objects.exists() and not Client.objects.exists()
    for name in set(SAID) - {"is_outdoor"}:
        assert reply.context["form"][name].value() == said[name]


def test_today_is_not_in_the_past(owner_client):
    assert owner_client.post(NEW, {**SAID, "event_on": "2026-06-13"}).status_code == 302


@pytest.mark.parametrize("contact", ["READING@wexcombebay.example", "+1 207 555 0142"])
def test_someone_known_is_asked_about_and_never_silently_merged(owner_client, contact):
    ClientFactory()
    reply = owner_client.post(NEW, {**SAID, "contact": contact})
    assert reply.status_code == 422
    assert "Say below whether it is them" in reply.context["form"].errors["contact"][0]
    assert "Is it one of these?" in reply.text
    assert not Job.objects.exists()


def test_someone_known_and_chosen_gets_the_job(owner_client):
    library = ClientFactory()
    said = {**SAID, "contact": library.email, "who": library.pk}
    assert owner_client.post(NEW, said).status_code == 302
    assert Job.objects.get().client == library


def test_someone_with_the_same_phone_may_be_new_when_said_so(owner_client):
    library = ClientFactory()
    owner_client.post(NEW, {**SAID, "contact": library.phone, "who": "new"})
    assert Job.objects.get().client != library
    assert Client.objects.count() == 2


def test_a_client_s_own_page_leads_here_with_them_chosen(owner_client):
    library = ClientFactory()
    page = owner_client.get(f"{NEW}?client={library.pk}").text
    assert f'id="who_{library.pk}" value="{library.pk}" checked' in page
    assert library.email in page
    said = {"name": library.name, "contact": "", "who": library.pk}
    owner_client.post(f"{NEW}?client={library.pk}", said)
    assert Job.objects.get().client == library


@pytest.mark.parametrize("client", ["0", "x", "-1", "9" * 30])
def test_a_client_who_is_not_there_leaves_the_page_empty(owner_client, client):
    assert owner_client.get(f"{NEW}?client={client}").status_code == 200


@pytest.mark.parametrize("who", ["", "new"])
def test_a_button_pressed_twice_takes_one_enquiry(owner_client, who):
    once = owner_client.get(NEW).context["form"]["once"].value()
    said = {**SAID, "who": who, "once": once}
    replies = [
        owner_client.post(NEW, {**said, "csrfmiddlewaretoken": token, "photos": [image_file()]})
        for token in ("a", "b")
    ]
    job = Job.objects.get()
    assert {reply.url for reply in replies} == {reverse("job_detail", args=[job.pk])}
    assert job.photos.count() == 1
    assert not JobPhoto.objects.filter(job=None).exists()


def test_the_same_words_on_another_page_are_another_enquiry(owner_client):
    for _ in range(2):
        once = owner_client.get(NEW).context["form"]["once"].value()
        owner_client.post(NEW, {**SAID, "who": "new", "once": once})
    assert Job.objects.count() == 2


def test_other_words_on_a_page_the_browser_brought_back_are_another_enquiry(owner_client):
    once = owner_client.get(NEW).context["form"]["once"].value()
    for title in ("Sixth birthday", "Seventh birthday"):
        owner_client.post(NEW, {**SAID, "who": "new", "once": once, "title": title})
    assert Job.objects.count() == 2


def test_photos_come_with_the_enquiry(owner_client):
    owner_client.post(NEW, {**SAID, "photos": [image_file(), image_file("b.png")]})
    assert Job.objects.get().photos.count() == 2


def test_good_photos_outlive_a_mistake_elsewhere(owner_client):
    first = owner_client.get(NEW).context["form"]["tray"].value()
    files = [image_file(), bytes_named("evil.svg", SVG)]
    refused = owner_client.post(
        NEW, {**SAID, "event_on": "2020-01-01", "tray": first, "photos": files}
    )
    assert "“evil.svg” is not a picture we can read" in refused.context["form"].errors["photos"][0]
    waiting = JobPhoto.objects.get(job=None)
    assert reverse("photo", args=[waiting.pk]) in refused.text
    again = owner_client.get(reverse("enquiry_photos"), {"tray": first})
    assert reverse("photo", args=[waiting.pk]) in again.text
    owner_client.post(NEW, {**SAID, "tray": first})
    assert Job.objects.get().photos.get() == waiting


def test_a_made_up_tray_is_replaced(owner_client):
    owner_client.post(NEW, {**SAID, "tray": "../../etc", "photos": [image_file()]})
    assert Job.objects.get().photos.count() == 1


def test_the_form_is_kept_on_the_device_and_forgotten_when_saved(owner_client):
    assert 'data-keep="enquiry"' in owner_client.get(NEW).text
    saved = owner_client.get(owner_client.post(NEW, SAID).url)
    assert 'data-keep-saved="enquiry"' in saved.text


def test_likely_people_are_shown_as_one_types(owner_client):
    library = ClientFactory()
    page = owner_client.get(reverse("enquiry_same_people"), {"name": "wexc", "contact": ""})
    assert "Wexcombe Bay Library" in page.text
    nobody = owner_client.get(reverse("enquiry_same_people"), {"name": "Tomas"})
    assert nobody.text.strip() == ""
    chosen = owner_client.get(reverse("enquiry_same_people"), {"name": "x", "who": library.pk})
    assert "checked" in chosen.text


@pytest.mark.parametrize("typed", ["\0", "\0wexc", "w" * 5000, "%", "_", "'; --"])
def test_odd_typing_is_only_a_name_that_is_not_there(owner_client, typed):
    address = reverse("enquiry_same_people")
    assert owner_client.get(address, {"name": typed, "contact": typed}).status_code == 200


def test_a_name_is_shown_as_text_whatever_is_in_it(owner_client):
    ClientFactory(name="<script>alert(1)</script>")
    page = owner_client.get(reverse("enquiry_same_people"), {"name": "<script>alert"})
    assert "&lt;script&gt;" in page.text
    assert "<script>" not in page.text


@pytest.mark.parametrize("url_name", ["enquiry_same_people", "enquiry_photos"])
def test_the_parts_of_the_page_are_only_read(owner_client, url_name):
    assert owner_client.post(reverse(url_name)).status_code == 405


def test_the_page_knows_only_get_and_post(owner_client):
    assert owner_client.put(NEW).status_code == 405
