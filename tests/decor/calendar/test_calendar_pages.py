from datetime import UTC, datetime, time, timedelta

import pytest
import time_machine
from django.urls import reverse

from decor.calendar.days import agenda_from, day_asked, month_of, week_of
from decor.calendar.sessions import session_plan
from decor.models import PaymentDue, Visit
from decor.models.visit import VisitKind
from tests.decor.calendar.planning import NOW, SATURDAY, days_later, job_at, plan
from tests.factories import JobFactory

PAGES = ("calendar_month", "calendar_week", "calendar_agenda")


@pytest.fixture
def on_the_13th():
    with time_machine.travel(NOW, tick=False):
        yield


def some_work(*, at_hour: int, title: str) -> None:
    """A promised job with an install, hours at the bench and money due in the same month."""
    job = job_at(f"{title} hall", title=title)
    job.stage = "promised"
    job.save()
    plan(f"{at_hour:02}:00", f"{at_hour:02}:30", job=job)
    session_plan(job=job, on=days_later(-1), minutes=60, now=NOW)
    PaymentDue.objects.create(
        job=job, kind="deposit", due_on=days_later(-3), amount_cents=5000, set_at=NOW
    )


@pytest.mark.usefixtures("on_the_13th")
def test_a_month_shows_each_kind_in_words_and_leads_to_where_it_is_done(owner_client):
    some_work(at_hour=9, title="Posts")
    page = owner_client.get(reverse("calendar_month")).text
    for words in ("Install", "Making", "Money due", "Deposit, Posts"):
        assert words in page
    assert reverse("visit_page", args=[Visit.objects.get().pk]) in page
    assert "Clash" not in page


@pytest.mark.usefixtures("on_the_13th")
def test_what_clashes_is_said_on_its_day(owner_client):
    plan("09:00", "10:00", job=job_at("Harrow Hill"))
    plan("09:30", "10:30", job=job_at("Library porch"), overruled_reason="My sister helps")
    session_plan(job=JobFactory(), on=days_later(1), minutes=400, now=NOW)
    for name in PAGES:
        page = owner_client.get(reverse(name), {"day": "2026-06-20"}).text
        assert "Install at Harrow Hill 9 a.m. to 10 a.m. is still under way." in page
        assert "You let it stand: “My sister helps”" in page
    assert "6 h 40 min of making, and there are 6 h for it." in page
    assert "this comes too late for it" in page


@pytest.mark.usefixtures("on_the_13th")
@pytest.mark.parametrize("name", PAGES)
def test_a_page_asks_the_database_as_often_for_a_full_month(
    owner_client, name, django_assert_num_queries, django_assert_max_num_queries
):
    some_work(at_hour=9, title="Posts")
    address = reverse(name) + "?day=2026-06-20"
    owner_client.get(address)
    with django_assert_max_num_queries(40) as few:
        owner_client.get(address)
    for hour in (11, 13, 15):
        some_work(at_hour=hour, title=f"Posts {hour}")
    with django_assert_num_queries(len(few)):
        owner_client.get(address)


@pytest.mark.usefixtures("on_the_13th")
def test_empty_pages_say_what_to_do_and_broken_days_are_today(owner_client):
    for name in PAGES:
        for day in ("2026-06-20", "soon", "2026-02-30", "9999-12-31", "0001-01-01"):
            reply = owner_client.get(reverse(name), {"day": day})
            assert "Nothing on these days" in reply.text
            assert reply.context["day"].year == 2026


@pytest.mark.usefixtures("on_the_13th")
def test_a_promised_job_without_an_install_stands_on_its_day(owner_client):
    job = JobFactory(stage="promised", title="Porch swag")
    page = owner_client.get(reverse("calendar_week"), {"day": "2026-06-20"}).text
    assert "No install is planned yet" in page
    assert "No hours are planned for it yet" in page
    plan("09:00", "10:00", job=job)
    page = owner_client.get(reverse("calendar_week"), {"day": "2026-06-20"}).text
    assert "No install is planned yet" not in page


@pytest.mark.usefixtures("on_the_13th")
def test_a_visit_late_at_night_is_on_the_day_it_is_in_the_business_s_zone(owner_client):
    plan("23:30", "23:45", kind=VisitKind.STRIKE, job=JobFactory(event_time=time(14)))
    days = owner_client.get(reverse("calendar_week"), {"day": "2026-06-20"}).context["days"]
    assert [day.on for day in days if day.events] == [SATURDAY]


def test_spans_are_whole_weeks_and_lead_to_each_other():
    month = month_of(SATURDAY)
    assert (month.first.isoformat(), month.last.isoformat()) == ("2026-06-01", "2026-07-05")
    assert month_of(month.before).heading == "May 2026"
    assert month_of(month.after).heading == "July 2026"
    week = week_of(SATURDAY)
    assert week.heading == "15 to 21 June 2026"
    assert week_of(week.after).heading == "22 to 28 June 2026"
    assert agenda_from(SATURDAY).after - SATURDAY == timedelta(days=28)
    assert week_of(datetime(2026, 12, 31, tzinfo=UTC).date()).heading == (
        "28 December 2026 to 3 January 2027"
    )
    assert day_asked("", today=SATURDAY) == SATURDAY
