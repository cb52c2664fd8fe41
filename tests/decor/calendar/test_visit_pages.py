from datetime import UTC, date, datetime

import pytest
import time_machine
from django.urls import reverse

from decor.calendar.sessions import session_plan
from decor.jobs.stages import job_move
from decor.models import MakingSession, Visit
from decor.models.visit import VisitKind
from tests.decor.calendar.planning import (
    NOW,
    SATURDAY,
    at,
    days_later,
    job_at,
    nell_and_tomas,
    plan,
)
from tests.factories import JobFactory

SAID = {"on": "2026-06-20", "begins": "09:00", "ends": "11:00", "people": "1", "note": "Ring"}
SPRING, AUTUMN = "2027-03-14", "2026-11-01"


@pytest.fixture(autouse=True)
def on_the_13th():
    with time_machine.travel(NOW, tick=False):
        yield


def new(job, kind="install") -> str:
    return reverse("visit_new", args=[job.pk, kind])


def test_an_install_is_offered_so_long_before_the_event_and_planned(owner_client):
    job = JobFactory()
    form = owner_client.get(new(job)).context["form"]
    assert f"{form['begins'].value():%H:%M} {form['ends'].value():%H:%M}" == "11:00 13:00"
    assert owner_client.post(new(job), SAID).url == reverse("job_detail", args=[job.pk])
    visit = Visit.objects.get()
    assert (visit.starts_at, visit.ends_at) == (at("09:00"), at("11:00"))
    page = owner_client.get(reverse("job_detail", args=[job.pk])).text
    assert "Saturday 20 June 2026, 9 a.m. to 11 a.m." in page
    assert "Plan an install" not in page
    assert "Plan a strike" in page


def test_a_clash_is_said_nothing_is_lost_and_a_reason_lets_it_stand(owner_client):
    plan("09:00", "11:30", job=job_at("Harrow Hill", drive=10))
    job = job_at("Library porch", drive=15)
    reply = owner_client.post(new(job), SAID)
    assert reply.status_code == 422
    assert "is still under way, and the drive takes 25 minutes" in reply.text
    assert 'value="Ring"' in reply.text
    assert 'name="overruled_reason"' in reply.text
    why = "My sister hangs the other one"
    assert owner_client.post(new(job), {**SAID, "overruled_reason": why}).status_code == 302
    assert (
        f"You let it stand: “{why}”" in owner_client.get(reverse("job_detail", args=[job.pk])).text
    )


@pytest.mark.parametrize(
    ("change", "field", "words"),
    [
        ({"on": ""}, "on", "required"),
        ({"on": "31 June"}, "on", "valid date"),
        ({"begins": "25:00"}, "begins", "valid time"),
        ({"people": "0"}, "people", "greater than or equal to 1"),
        ({"people": "51"}, "people", "less than or equal to 50"),
        ({"travel_minutes": "-5"}, "travel_minutes", "greater than or equal to 0"),
        ({"note": "x" * 301}, "note", "at most 300"),
        ({"ends": "08:00"}, "ends", "ends before it begins"),
        ({"on": SPRING, "begins": "02:30", "ends": "04:00"}, "begins", "there is no 2:30 a.m."),
        ({"on": SPRING, "begins": "01:30", "ends": "02:30"}, "ends", "there is no 2:30 a.m."),
        ({"on": AUTUMN, "begins": "01:30", "ends": "03:00"}, "second_time", "comes twice"),
    ],
)
def test_a_mistake_is_said_beside_its_field(owner_client, change, field, words):
    reply = owner_client.post(new(JobFactory()), {**SAID, **change})
    assert reply.status_code == 422
    assert words in reply.context["form"].errors[field][0]
    assert f'name="{field}"' in reply.text
    assert not Visit.objects.exists()


@pytest.mark.parametrize(("which", "hour"), [("first", 5), ("second", 6)])
def test_of_an_hour_that_comes_twice_one_is_chosen(owner_client, which, hour):
    job = JobFactory(event_on=date(2026, 11, 1))
    said = {**SAID, "on": AUTUMN, "begins": "01:30", "ends": "03:00", "second_time": which}
    assert owner_client.post(new(job), said).status_code == 302
    visit = Visit.objects.get()
    assert visit.starts_at == datetime(2026, 11, 1, hour, 30, tzinfo=UTC)
    assert visit.ends_at == datetime(2026, 11, 1, 8, 0, tzinfo=UTC)
    form = owner_client.get(reverse("visit_edit", args=[visit.pk])).context["form"]
    assert (form["second_time"].value() == "second") == (which == "second")


def test_an_end_past_midnight_is_of_the_next_day(owner_client):
    job = JobFactory()
    owner_client.post(new(job, "strike"), {**SAID, "begins": "23:30", "ends": "00:30"})
    visit = Visit.objects.get()
    assert visit.ends_at == at("00:30", on=days_later(1))
    assert (
        "11:30 p.m. to 12:30 a.m. on Sunday"
        in owner_client.get(reverse("job_detail", args=[job.pk])).text
    )


def test_who_goes_is_named_where_there_is_a_choice(owner_client):
    _, tomas = nell_and_tomas()
    job = JobFactory()
    assert 'name="crew"' in owner_client.get(new(job)).text
    owner_client.post(new(job), {**SAID, "crew": [tomas.pk]})
    assert list(Visit.objects.get().crew.all()) == [tomas]
    assert owner_client.post(new(job, "strike"), {**SAID, "crew": ["999"]}).status_code == 422


def test_a_strike_before_the_install_is_refused_in_words(owner_client):
    job = JobFactory()
    plan("12:00", "13:00", job=job)
    reply = owner_client.post(new(job, "strike"), SAID)
    assert reply.status_code == 422
    assert "cannot be taken down before it hangs" in reply.text


def test_a_visit_is_moved_called_off_after_asking_and_marked(owner_client):
    visit = plan("09:00", "10:00")
    owner_client.post(reverse("visit_edit", args=[visit.pk]), {**SAID, "begins": "10:00"})
    visit.refresh_from_db()
    assert (visit.starts_at, visit.sequence) == (at("10:00"), 1)
    mark, off = (reverse(name, args=[visit.pk]) for name in ("visit_mark", "visit_off"))
    owner_client.post(mark, {"done": "yes"})
    assert Visit.objects.get().done_at == NOW
    owner_client.post(mark, {"done": "no"})
    assert Visit.objects.get().done_at is None
    assert owner_client.get(mark).status_code == 405
    assert "Call off the install?" in owner_client.get(off).text
    assert Visit.objects.get().called_off_at is None
    owner_client.post(off)
    assert Visit.objects.get().called_off_at == NOW
    assert "was called off" in owner_client.post(off, follow=True).text


def test_there_is_no_visit_of_another_kind(owner_client):
    assert owner_client.get(new(JobFactory(), "party")).status_code == 404


@pytest.mark.parametrize(("stage", "end"), [("quoted", "lost"), ("promised", "called_off")])
def test_a_job_that_ends_early_takes_its_visits_and_sessions_with_it(business, stage, end):
    job = JobFactory(stage=stage)
    other = plan("12:00", "13:00")
    plan("09:00", "10:00", job=job)
    plan("15:00", "16:00", job=job, kind=VisitKind.STRIKE)
    session_plan(job=job, on=days_later(-1), minutes=60, now=NOW)
    job_move(job=job, to=end, by=None, reason="They rang", now=NOW)
    assert not Visit.objects.filter(job=job, called_off_at=None).exists()
    assert MakingSession.objects.get().called_off_at == NOW
    assert Visit.objects.get(pk=other.pk).called_off_at is None


def test_when_the_event_moves_what_was_planned_says_that_it_no_longer_fits(owner_client):
    job = JobFactory(stage="promised")
    plan("09:00", "10:00", job=job)
    plan("18:00", "19:00", job=job, kind=VisitKind.STRIKE)
    session_plan(job=job, on=days_later(-1), minutes=60, now=NOW)
    page = reverse("job_detail", args=[job.pk])
    assert "note-bad" not in owner_client.get(page).text
    said = {"title": job.title, "event_time": "14:00", "site": job.site_id}
    for day, words in (
        ("2026-06-18", ("should hang 60 minutes before", "comes too late for it")),
        ("2026-06-25", ("hang a long time before", "taken down before that")),
    ):
        edit = reverse("job_edit", args=[job.pk])
        reply = owner_client.post(edit, {**said, "event_on": day}, follow=True)
        assert "What was planned for it has not moved" in reply.text
        assert all(each in reply.text for each in words)
    reply = owner_client.post(edit, {**said, "event_on": str(SATURDAY)}, follow=True)
    assert "has not moved" not in reply.text
