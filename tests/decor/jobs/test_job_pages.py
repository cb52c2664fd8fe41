from datetime import UTC, date, datetime, timedelta

import pytest
import time_machine
from django.urls import reverse

from decor.jobs.days import DAY_HAS_GONE
from decor.jobs.stages import ALREADY_THERE, SAY_WHY
from decor.models import Job, StageMove
from tests.factories import ClientFactory, JobFactory, QuoteFactory, SiteFactory

NOW = datetime(2026, 6, 13, 15, 0, tzinfo=UTC)


@pytest.fixture(autouse=True)
def frozen():
    with time_machine.travel(NOW, tick=False):
        yield


def url(name: str, job: Job) -> str:
    return reverse(name, args=[job.pk])


# ---- The list


def test_the_list_says_what_when_for_whom_and_where_it_is(owner_client):
    JobFactory(stage="promised")
    page = owner_client.get(reverse("job_list")).text
    for words in ("Reading-week arch", "Wexcombe Bay Library", "Library porch", "Promised"):
        assert words in page
    assert "Sat 20 Jun 2026, 2 p.m." in page
    assert "in 7 days" in page


def test_an_empty_list_says_how_a_job_begins(owner_client):
    page = owner_client.get(reverse("job_list")).text
    assert "No jobs yet" in page
    assert reverse("enquiry_new") in page


def test_a_search_that_finds_nothing_offers_to_look_everywhere(owner_client):
    JobFactory(event_on=date(2026, 1, 1))
    page = owner_client.get(reverse("job_list"), {"search": "Reading & week"})
    assert "?when=all&amp;search=Reading%20%26%20week" in page.text


def test_search_stage_and_time_stay_chosen(owner_client):
    JobFactory(stage="done", event_on=date(2026, 1, 1))
    asked = {"search": "arch", "stage": "done", "when": "past"}
    page = owner_client.get(reverse("job_list"), asked)
    assert [job.title for job in page.context["page"]] == ["Reading-week arch"]
    assert '<option value="done" selected>' in page.text
    assert '<option value="past" selected>' in page.text
    assert "1 job, past, done, found by “arch”" in page.text


@pytest.mark.parametrize(
    "asked", [{"when": "soon"}, {"stage": "adrift"}, {"page": "x"}, {"page": "99"}]
)
def test_an_odd_address_still_gives_a_list(owner_client, asked):
    JobFactory()
    assert "Reading-week arch" in owner_client.get(reverse("job_list"), asked).text


def test_a_long_list_comes_in_pages(owner_client):
    client = ClientFactory()
    for number in range(26):
        JobFactory(client=client, site=None, title=f"Job {number:02}")
    first = owner_client.get(reverse("job_list"), {"search": "job"})
    assert "Page 1 of 2" in first.text
    assert "?search=job&amp;page=2" in first.text
    second = owner_client.get(reverse("job_list"), {"search": "job", "page": 2})
    assert [job.title for job in second.context["page"]] == ["Job 25"]


# ---- The page


def test_the_page_shows_everything_about_the_job(owner_client):
    site = SiteFactory(
        is_outdoor=True, access_note="Key at the desk", distance_m=7242, drive_minutes=14
    )
    job = JobFactory(client=site.client, site=site, note="Oat & fern\nNine feet")
    JobFactory(client=site.client, site=None, title="Spring ring")
    StageMove.objects.create(job=job, to_stage="asked", moved_at=NOW)
    page = owner_client.get(url("job_detail", job)).text
    for words in (
        "Saturday 20 June 2026",
        "in 7 days",
        "2 Harbour Street",
        "outdoors",
        "Key at the desk",
        "4.5 miles, 14 min, one way",
        'href="tel:2075550142"',
        'href="mailto:reading@wexcombebay.example"',
        "Oat &amp; fern<br>Nine feet",
        "Sat 13 Jun 2026, 11 a.m.",  # 15:00 UTC is 11:00 in New York in June
        "Spring ring",
    ):
        assert words in page


def test_a_job_of_which_little_is_known_shows_that(owner_client):
    job = JobFactory(site=None, event_on=None, event_time=None)
    page = owner_client.get(url("job_detail", job)).text
    assert "no date yet" in page
    assert page.count("Not known yet") == 2


def test_a_lost_job_shows_how_far_it_came(owner_client):
    job = JobFactory(stage="lost")
    StageMove.objects.create(job=job, from_stage="quoted", to_stage="lost", moved_at=NOW)
    page = owner_client.get(url("job_detail", job))
    assert page.context["ended_after"] == "quoted"


@pytest.mark.parametrize("name", ["job_detail", "job_edit"])
def test_a_job_that_is_not_there_is_not_found(owner_client, name):
    assert owner_client.get(reverse(name, args=[404])).status_code == 404


def test_the_one_thing_to_do_next_follows_the_stage(owner_client):
    job = JobFactory()
    assert "Start a quote" in owner_client.get(url("job_detail", job)).text
    quote = QuoteFactory(job=job)
    asked = owner_client.get(url("job_detail", job)).text
    assert f"Open quote {quote.number}" in asked
    for stage, said in (
        ("promised", "Making sheet</a>"),
        ("made", "Plan the install</a>"),
        ("up", "Look back</a>"),
        ("done", "Look back</a>"),
    ):
        Job.objects.update(stage=stage)
        page = owner_client.get(url("job_detail", job)).text
        assert [said in line for line in page.splitlines() if "btn-primary" in line] == [True]
    Job.objects.update(stage="lost")
    assert "btn-primary" not in owner_client.get(url("job_detail", job)).text


# ---- Editing


def edited(job: Job, **change: object) -> dict[str, object]:
    said = {
        "title": job.title,
        "event_on": job.event_on or "",
        "event_time": "14:00",
        "site": job.site_id or "",
        "note": job.note,
    }
    return {**said, **change}


def test_a_job_is_edited(owner_client):
    job = JobFactory()
    said = edited(job, title="Summer arch", event_on="2026-07-01", note="Fern only")
    assert owner_client.post(url("job_edit", job), said).url == url("job_detail", job)
    job.refresh_from_db()
    assert (job.title, job.event_on, job.note) == ("Summer arch", date(2026, 7, 1), "Fern only")


def test_another_place_may_be_typed(owner_client):
    job = JobFactory()
    said = edited(job, new_place="Harbour wall", is_outdoor="on")
    owner_client.post(url("job_edit", job), said)
    job.refresh_from_db()
    assert (job.site.name, job.site.is_outdoor, job.site.client) == (
        "Harbour wall",
        True,
        job.client,
    )


@pytest.mark.parametrize(
    ("change", "field", "message"),
    [
        ({"title": " "}, "title", "short name"),
        ({"event_on": "2026-06-01"}, "event_on", DAY_HAS_GONE),
        ({"site": "99999"}, "site", "valid choice"),
    ],
)
def test_a_mistake_in_a_job_is_said_and_nothing_is_lost(owner_client, change, field, message):
    job = JobFactory()
    said = edited(job, note="Just typed", **change)
    reply = owner_client.post(url("job_edit", job), said)
    assert reply.status_code == 422
    assert message in reply.context["form"].errors[field][0]
    assert "Just typed" in reply.text
    assert Job.objects.get().note == ""


def test_a_place_of_another_client_cannot_be_taken(owner_client):
    job = JobFactory()
    other = SiteFactory(client=ClientFactory(name="Brannigans"))
    reply = owner_client.post(url("job_edit", job), edited(job, site=other.pk))
    assert reply.status_code == 422


def test_a_day_gone_by_may_stay_as_it_was(owner_client):
    job = JobFactory(event_on=date(2026, 6, 1))
    assert owner_client.post(url("job_edit", job), edited(job, title="Then")).status_code == 302


# ---- Moving


def test_a_job_moves_on_by_hand_with_a_reason(owner_client, owner):
    job = JobFactory()
    reply = owner_client.post(url("job_move", job), {"to": "quoted", "reason": "Told her at once"})
    assert reply.url == url("job_detail", job)
    move = StageMove.objects.get()
    assert (move.to_stage, move.moved_by, move.moved_at) == ("quoted", owner, NOW)
    page = owner_client.get(reply.url).text
    assert "is now “Quoted”" in page and "“Told her at once”" in page


@pytest.mark.parametrize("to", ["quoted", "made"])
def test_every_way_asks_why_beside_the_field(owner_client, to):
    job = JobFactory(stage="promised")
    reply = owner_client.post(url("job_move", job), {"to": to, "reason": " "})
    assert reply.status_code == 422
    assert reply.context["move_form"].errors == {"reason": [SAY_WHY]}
    owner_client.post(url("job_move", job), {"to": to, "reason": "wrong press"})
    assert Job.objects.get().stage == to


def test_what_comes_next_is_chosen_already_where_its_button_leads(owner_client):
    job = JobFactory(stage="promised")
    page = owner_client.get(url("job_detail", job) + "?to=made").text
    assert '<option value="made" selected>' in page
    assert '<details class="fold mt-4" id="by-hand" open>' in page


def test_the_same_press_twice_changes_nothing_and_says_so(owner_client):
    job = JobFactory(stage="quoted")
    pressed = {"to": "quoted", "reason": "Sent"}
    reply = owner_client.post(url("job_move", job), pressed, follow=True)
    assert ALREADY_THERE in reply.text
    assert not StageMove.objects.exists()


@pytest.mark.parametrize("to", ["done", "adrift", ""])
def test_a_move_that_cannot_be_is_refused_in_words(owner_client, to):
    job = JobFactory()
    reply = owner_client.post(url("job_move", job), {"to": to, "reason": "Why not"})
    assert reply.status_code == 422
    assert reply.context["move_form"].errors["to"]
    assert Job.objects.get().stage == "asked"


# ---- Putting away


def test_an_archived_job_is_kept_and_comes_back(owner_client):
    job = JobFactory()
    assert "is archived" in owner_client.post(url("job_archive", job), follow=True).text
    assert not owner_client.get(reverse("job_list")).context["page"].object_list
    assert "is back" in owner_client.post(url("job_bring_back", job), follow=True).text
    job.refresh_from_db()
    assert job.archived_at is None


def test_archiving_twice_keeps_the_first_day(owner_client):
    first = NOW - timedelta(days=3)
    job = JobFactory(archived_at=first)
    owner_client.post(url("job_archive", job))
    job.refresh_from_db()
    assert job.archived_at == first


@pytest.mark.parametrize("name", ["job_move", "job_archive", "job_bring_back", "job_photo_add"])
def test_what_changes_a_job_is_never_done_by_a_link(owner_client, name):
    assert owner_client.get(url(name, JobFactory())).status_code == 405


@pytest.mark.parametrize("name", ["job_list", "job_detail"])
def test_what_shows_a_job_takes_no_post(owner_client, name):
    job = JobFactory()
    address = reverse(name) if name == "job_list" else url(name, job)
    assert owner_client.post(address).status_code == 405
