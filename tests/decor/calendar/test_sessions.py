import pytest
import time_machine
from django.urls import reverse

from decor.calendar.capacity import hours_free
from decor.calendar.sessions import (
    DAY_HAS_SOME,
    IS_OVER,
    SessionRefused,
    session_call_off,
    session_move,
    session_plan,
    sessions_are_over,
)
from decor.jobs.stages import job_move
from decor.models import MakingSession
from tests.decor.calendar.planning import NOW, days_later
from tests.factories import JobFactory

pytestmark = pytest.mark.django_db
FRIDAY = days_later(-1)


def test_hours_of_a_job_on_a_day_are_one_session_whose_changes_are_counted(business):
    job = JobFactory()
    first = session_plan(job=job, on=FRIDAY, minutes=60, now=NOW)
    assert session_plan(job=job, on=FRIDAY, minutes=90, now=NOW) == first
    assert session_plan(job=job, on=FRIDAY, minutes=90, now=NOW).sequence == 1
    assert hours_free(FRIDAY).making.left == 360 - 90
    session_call_off(session=first, now=NOW)
    assert hours_free(FRIDAY).making.left == 360
    again = session_plan(job=job, on=FRIDAY, minutes=30, now=NOW)
    assert again != first


@pytest.mark.parametrize("minutes", [0, -5, 24 * 60 + 1])
def test_a_day_has_24_hours_and_a_session_more_than_none(business, minutes):
    with pytest.raises(SessionRefused):
        session_plan(job=JobFactory(), on=FRIDAY, minutes=minutes, now=NOW)


def test_what_ended_early_gets_no_hours_and_what_is_over_does_not_move(business):
    with pytest.raises(SessionRefused, match="lost"):
        session_plan(job=JobFactory(stage="lost"), on=FRIDAY, minutes=60, now=NOW)
    session = session_plan(job=JobFactory(), on=FRIDAY, minutes=60, now=NOW)
    sessions_are_over(job=session.job, today=FRIDAY, now=NOW)
    session.refresh_from_db()
    with pytest.raises(SessionRefused, match=IS_OVER):
        session_move(session=session, on=FRIDAY, minutes=30, now=NOW)
    session_call_off(session=session, now=NOW)
    assert session.called_off_at is None  # what was worked stays worked


def test_the_owner_plans_changes_and_calls_off_hours_and_hears_of_a_day_too_full(owner_client):
    job = JobFactory(stage="promised")
    page = reverse("job_detail", args=[job.pk])
    with time_machine.travel(NOW, tick=False):
        new = reverse("session_new", args=[job.pk])
        said = owner_client.post(new, {"on": str(FRIDAY), "minutes": "4.5"}, follow=True).text
        assert "4 h 30 min at the bench on Friday 19 June 2026" in said
        assert "too full" not in said
        session = MakingSession.objects.get()
        assert session.is_fixed
        edit = reverse("session_edit", args=[session.pk])
        said = owner_client.post(edit, {"on": str(FRIDAY), "minutes": "7"}, follow=True).text
        assert "7 h of making, and there are 6 h for it" in said
        for wrong in ({"minutes": "0"}, {"minutes": "25"}, {"on": "soon"}):
            told = {"on": str(FRIDAY), "minutes": "2", **wrong}
            assert owner_client.post(edit, told).status_code == 422
        session_plan(job=job, on=days_later(-2), minutes=60, now=NOW)
        reply = owner_client.post(edit, {"on": str(days_later(-2)), "minutes": "1"})
        assert reply.status_code == 422 and DAY_HAS_SOME in reply.text
        off = reverse("session_off", args=[session.pk])
        assert owner_client.get(off).status_code == 405
        owner_client.post(off)
        session.refresh_from_db()
        assert session.called_off_at == NOW
        left = owner_client.get(page).context["job"].making_sessions.filter(called_off_at=None)
        assert [each.on for each in left] == [days_later(-2)]


def test_a_job_that_is_made_has_worked_its_hours_and_needs_no_more(business):
    job = JobFactory(stage="promised")
    for days in (-9, -7, -1):
        session_plan(job=job, on=days_later(days), minutes=60, now=NOW)
    job_move(job=job, to="made", by=None, reason="All of it", now=NOW)  # seven days before
    states = [
        (s.done_at is not None, s.called_off_at is not None) for s in job.making_sessions.all()
    ]
    assert states == [(True, False), (True, False), (False, True)]
