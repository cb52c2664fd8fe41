from datetime import UTC, datetime, time, timedelta

import pytest

from decor.calendar.visits import (
    JOB_HAS_ENDED,
    WAS_CALLED_OFF,
    WAS_DONE,
    VisitClash,
    VisitRefused,
    install_window,
    visit_call_off,
    visit_done,
    visit_move,
    visit_not_done,
)
from decor.models import Visit
from decor.models.visit import VisitKind
from tests.decor.calendar.planning import NOW, at, days_later, job_at, nell_and_tomas, plan
from tests.factories import JobFactory, UserFactory

pytestmark = pytest.mark.django_db


def test_an_install_that_overlaps_with_the_drive_is_refused_in_words(business):
    plan("09:00", "11:30", job=job_at("Harrow Hill", drive=10))
    with pytest.raises(VisitClash) as refused:
        plan("11:45", "13:00", job=job_at("Library porch", drive=15))
    assert refused.value.problems == (
        "Install at Harrow Hill 9 a.m. to 11:30 a.m. ends too late, "
        "and the drive takes 25 minutes.",
    )
    assert Visit.objects.count() == 1
    assert plan("11:55", "13:00", job=job_at("Library porch", drive=15))


def test_one_still_under_way_is_said_so_and_one_that_begins_too(business):
    plan("09:00", "11:30", job=job_at("Harrow Hill", drive=10))
    for times, words in (
        (("10:00", "12:00"), "9 a.m. to 11:30 a.m. is still under way, and the drive takes 20"),
        (("08:00", "09:30"), "begins before this one ends, and the drive takes 20 minutes"),
        (("07:00", "08:45"), "begins too soon after, and the drive takes 20 minutes"),
    ):
        with pytest.raises(VisitClash, match=words):
            plan(*times, job=job_at("Library porch", drive=10))


def test_two_crews_work_at_once_where_there_are_enough_people(business):
    nell_and_tomas()
    plan("09:00", "11:00", job=job_at("Harrow Hill", drive=10))
    plan("09:00", "11:00", job=job_at("Library porch", drive=10))
    with pytest.raises(VisitClash) as refused:
        plan("10:00", "12:00", job=job_at("Tea room", drive=10))
    assert len(refused.value.problems) == 2


def test_who_is_named_cannot_be_at_two_places_and_others_still_can(business):
    nell, tomas = nell_and_tomas()
    plan("09:00", "10:00", job=job_at("Harrow Hill", drive=10), crew=[nell])
    plan("11:00", "12:00", job=job_at("Library porch", drive=10), crew=[tomas])
    with pytest.raises(VisitClash, match="Harrow Hill"):
        plan("09:30", "10:30", job=job_at("Tea room", drive=10), crew=[nell])
    with pytest.raises(VisitClash):  # neither of them is free all that time
        plan("09:00", "12:00", job=job_at("Tea room", drive=10))
    assert plan("09:30", "10:30", job=job_at("Tea room", drive=10)).people == 1


def test_the_owner_overrules_with_a_reason_that_is_kept(business):
    plan("09:00", "11:30", job=job_at("Harrow Hill"))
    why = "My sister hangs the other one"
    kept = plan("10:00", "11:00", job=job_at("Library porch"), overruled_reason=f" {why} ")
    assert kept.overruled_reason == why
    later = plan("15:00", "16:00", job=job_at("Tea room"), overruled_reason="to be sure")
    assert later.overruled_reason == ""  # there was nothing to overrule


def test_a_clash_that_stands_already_is_nobody_else_s(business):
    plan("09:00", "10:00", job=job_at("Harrow Hill"))
    plan("09:00", "10:00", job=job_at("Library porch"), overruled_reason="My sister helps")
    assert plan("15:00", "16:00", job=job_at("Tea room"))
    with pytest.raises(VisitClash):
        plan("09:30", "10:30", job=job_at("Mill"))


def test_days_off_and_too_few_people_are_said(business):
    nell, tomas = nell_and_tomas()
    tomas.week = "1111100"
    tomas.save()
    with pytest.raises(VisitClash, match="Tomas does not work on Saturdays"):
        plan("09:00", "10:00", crew=[tomas])
    with pytest.raises(VisitClash, match="2 people are needed, and on Saturday 20 June 2026 there"):
        plan("09:00", "10:00", people=2)
    nell.week = "1111100"
    nell.save()
    with pytest.raises(VisitClash, match="Nobody works on Saturday 20 June 2026"):
        plan("09:00", "10:00")


def test_a_day_holds_so_many_hours_of_installing_with_the_drives(business):
    nell, tomas = nell_and_tomas()
    tomas.delete()
    nell.install_minutes_a_day = 240
    nell.save()
    plan("09:00", "11:00", job=job_at("Harrow Hill", drive=15))  # 2 h 30 min
    with pytest.raises(VisitClash, match=r"would take 4 h 30 min .* there are 4 h"):
        plan("14:00", "15:30", job=job_at("Library porch", drive=15))
    assert plan("14:00", "15:00", job=job_at("Library porch", drive=15))  # 1 h 30 min: just so


@pytest.mark.parametrize("kind", [VisitKind.STRIKE, VisitKind.REVISIT])
def test_nothing_is_taken_down_or_mended_before_it_hangs(business, kind):
    job = JobFactory()
    plan("12:00", "13:00", job=job)
    with pytest.raises(VisitRefused, match="The install ends Saturday 20 June 2026 at 1 p"):
        plan("10:00", "11:00", job=job, kind=kind, overruled_reason="I insist")
    assert plan("18:00", "19:00", job=job, kind=kind)


def test_an_install_is_not_moved_behind_its_strike(business):
    job = JobFactory()
    install = plan("09:00", "10:00", job=job)
    plan("18:00", "19:00", job=job, kind=VisitKind.STRIKE)
    with pytest.raises(VisitRefused, match="The strike begins"):
        visit_move(visit=install, starts_at=at("17:30"), ends_at=at("18:30"), now=NOW)
    assert Visit.objects.get(pk=install.pk).starts_at == at("09:00")


def test_there_is_one_install_and_one_strike_and_any_number_of_revisits(business):
    job = JobFactory()
    plan("09:00", "10:00", job=job)
    with pytest.raises(VisitRefused, match="has its install already"):
        plan("11:00", "12:00", job=job)
    plan("12:00", "12:30", job=job, kind=VisitKind.REVISIT)
    plan("14:00", "14:30", job=job, kind=VisitKind.REVISIT)


@pytest.mark.parametrize("ends", ["09:00", "08:00"])
def test_a_visit_ends_after_it_begins(business, ends):
    with pytest.raises(VisitRefused):
        plan("09:00", ends)


def test_a_job_that_ended_early_gets_no_visit(business):
    with pytest.raises(VisitRefused, match=JOB_HAS_ENDED.format(stage="called off")):
        plan("09:00", "10:00", job=JobFactory(stage="called_off"))


def test_a_moved_visit_counts_its_changes_and_is_not_in_its_own_way(business):
    visit = plan("09:00", "10:00", note="Ring first", people=1)
    moved = visit_move(
        visit=visit, starts_at=at("09:30"), ends_at=at("10:30"), now=NOW + timedelta(days=1)
    )
    assert (moved.sequence, moved.note) == (1, "Ring first")
    assert moved.changed_at == NOW + timedelta(days=1)


def test_what_is_over_is_not_moved_or_called_off(business):
    visit = plan("09:00", "10:00")
    visit_call_off(visit=visit, now=NOW)
    assert (visit.sequence, visit.called_off_at) == (1, NOW)
    for deed in (
        lambda: visit_call_off(visit=visit, now=NOW),
        lambda: visit_done(visit=visit, by=None, now=NOW),
        lambda: visit_move(visit=visit, starts_at=at("10:00"), ends_at=at("11:00"), now=NOW),
    ):
        with pytest.raises(VisitRefused, match=WAS_CALLED_OFF):
            deed()
    again = plan("09:00", "10:00", job=visit.job)
    visit_done(visit=again, by=None, now=NOW)
    with pytest.raises(VisitRefused, match=WAS_DONE):
        visit_call_off(visit=again, now=NOW)
    visit_not_done(visit=again)
    assert Visit.objects.get(pk=again.pk).done_at is None


def test_an_install_done_puts_the_job_up(business):
    job = JobFactory(stage="made")
    visit = plan("09:00", "10:00", job=job)
    visit_done(visit=visit, by=UserFactory(), now=NOW)
    job.refresh_from_db()
    assert job.stage == "up"
    assert job.stage_moves.get().reason == "The install is done"


def test_the_install_window_ends_so_long_before_the_event(business):
    business.ready_before_minutes = 90
    business.save()
    job = JobFactory(event_time=time(14, 0))
    assert install_window(job, minutes_on_site=120) == (at("10:30"), at("12:30"))
    assert install_window(JobFactory(event_time=None), minutes_on_site=60) is None
    assert install_window(JobFactory(event_on=None), minutes_on_site=60) is None


def test_the_install_window_is_so_long_also_when_the_clocks_change(business):
    """Spring forward at 2:00 on Sunday 14 March 2027: 90 minutes before 3:30 is 1:00."""
    job = JobFactory(event_on=days_later(267), event_time=time(3, 30))
    starts, ends = install_window(job, minutes_on_site=30)
    assert ends == datetime(2027, 3, 14, 6, 30, tzinfo=UTC)
    assert ends - starts == timedelta(minutes=30)
    skipped = JobFactory(event_on=days_later(267), event_time=time(2, 30))
    assert install_window(skipped, minutes_on_site=30)[1] == datetime(
        2027, 3, 14, 6, 30, tzinfo=UTC
    )
