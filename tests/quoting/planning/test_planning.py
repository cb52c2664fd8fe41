from datetime import date, timedelta

import pytest

from quoting.estimator.planning import (
    Bench,
    JobToMake,
    Kind,
    Overfull,
    Relief,
    Session,
    Short,
    oldest_days,
    plan_changes,
    plan_making,
    what_would_help,
)

FRIDAY = date(2026, 6, 5)
THURSDAY, WEDNESDAY, TUESDAY, MONDAY = (FRIDAY - timedelta(days=n) for n in range(1, 5))


def bench(session_hours: float = 4, **hours: float) -> Bench:
    days = {"mon": MONDAY, "tue": TUESDAY, "wed": WEDNESDAY, "thu": THURSDAY, "fri": FRIDAY}
    return Bench(
        free_minutes={days[day]: round(60 * free) for day, free in hours.items()},
        session_minutes=round(60 * session_hours),
    )


def job(name: str = "library", *, hours: float = 3, on: date = FRIDAY, old: int = 2) -> JobToMake:
    return JobToMake(job=name, minutes=round(60 * hours), install_on=on, oldest_days=old)


def test_all_of_it_is_made_the_day_before_where_it_fits() -> None:
    plan = plan_making([job()], bench=bench(wed=8, thu=8))

    assert plan.sessions == (Session(job="library", on=THURSDAY, minutes=180),)
    assert plan.fits


def test_what_a_session_does_not_hold_is_made_a_day_earlier() -> None:
    plan = plan_making([job(hours=5)], bench=bench(wed=8, thu=8))

    assert plan.sessions == (
        Session(job="library", on=WEDNESDAY, minutes=60),
        Session(job="library", on=THURSDAY, minutes=240),
    )


def test_balloons_are_never_older_than_they_keep() -> None:
    plan = plan_making([job(hours=5, old=1)], bench=bench(mon=8, tue=8, wed=8, thu=8))

    assert [session.on for session in plan.sessions] == [THURSDAY]
    assert plan.short == (Short(job="library", minutes=60),)


def test_balloons_that_keep_no_day_are_made_on_the_day() -> None:
    plan = plan_making([job(old=0)], bench=bench(thu=8, fri=8))

    assert [session.on for session in plan.sessions] == [FRIDAY]


def test_an_earlier_job_leaves_the_later_one_its_only_day() -> None:
    """Each as late as it can be by itself would leave the tea room short."""
    library = job(hours=4, old=2)
    tea_room = job("tea room", hours=4, old=1)

    plan = plan_making([library, tea_room], bench=bench(wed=4, thu=4))

    assert plan.fits
    assert plan.sessions == (
        Session(job="library", on=WEDNESDAY, minutes=240),
        Session(job="tea room", on=THURSDAY, minutes=240),
    )


def test_where_not_all_fits_the_sooner_installed_is_made_whole() -> None:
    later, sooner = job("later", hours=3, on=FRIDAY), job("sooner", hours=3, on=THURSDAY)

    plan = plan_making([later, sooner], bench=bench(wed=4))

    assert plan.short == (Short(job="later", minutes=120),)


def test_needs_are_rounded_up_to_half_hours_and_free_hours_down() -> None:
    plan = plan_making([job(hours=100 / 60)], bench=bench(wed=8, thu=1.9))

    assert [(session.on, session.minutes) for session in plan.sessions] == [
        (WEDNESDAY, 30),
        (THURSDAY, 90),
    ]


def test_a_fixed_session_stays_and_counts() -> None:
    fixed = Session(job="library", on=WEDNESDAY, minutes=45)

    plan = plan_making([job(hours=2)], bench=bench(wed=8, thu=8), fixed=[fixed])

    assert plan.sessions == (
        Session(job="library", on=WEDNESDAY, minutes=45, is_fixed=True),
        Session(job="library", on=THURSDAY, minutes=90),
    )


def test_a_fixed_session_too_early_or_too_long_is_kept_and_pointed_out() -> None:
    fixed = Session(job="library", on=MONDAY, minutes=180)

    plan = plan_making([job()], bench=bench(mon=2, thu=8), fixed=[fixed])

    kept = Session(job="library", on=MONDAY, minutes=180, is_fixed=True)
    assert plan.sessions == plan.out_of_time == (kept,)
    assert plan.overfull == (Overfull(on=MONDAY, minutes=60),)


def test_what_would_help_is_said_with_what_it_saves() -> None:
    help_ = what_would_help([job(hours=6, old=1)], bench=bench(wed=3, thu=4.5, fri=1))

    assert help_ == (
        Relief(kind=Kind.OLDER_BALLOONS, job="library", days=1, saves_minutes=120),
        Relief(kind=Kind.ON_THE_DAY, job="library", saves_minutes=60),
        Relief(kind=Kind.LONGER_SESSIONS, minutes=30, saves_minutes=30),
    )


def test_more_hours_make_up_for_an_overfull_day_first() -> None:
    fixed = Session(job="tea room", on=THURSDAY, minutes=120)
    jobs = [job(hours=1, old=1), job("tea room", hours=2, old=1)]

    help_ = what_would_help(jobs, bench=bench(thu=1), fixed=[fixed])

    assert help_ == (Relief(kind=Kind.MORE_HOURS, on=THURSDAY, minutes=120, saves_minutes=60),)
    assert plan_making(jobs, bench=bench(thu=3), fixed=[fixed]).fits


def test_nothing_needs_help_where_all_fits() -> None:
    assert what_would_help([job()], bench=bench(thu=8)) == ()


def test_a_plan_that_is_as_good_stays_as_it_was() -> None:
    jobs = [job(name, hours=2) for name in ("library", "tea room", "rowing club")]
    for first in jobs:
        others = [each for each in jobs if each is not first]
        before = [
            Session(job=first.job, on=WEDNESDAY, minutes=120),
            *(Session(job=each.job, on=THURSDAY, minutes=120) for each in others),
        ]

        plan = plan_making(jobs, bench=bench(wed=4, thu=4), before=before)

        changes = plan_changes(before, plan)
        assert all(change.kept and not change.has_moved for change in changes)


def test_hours_that_go_move_sessions_and_say_what_gave_way() -> None:
    jobs = [job("library", hours=2, on=THURSDAY), job("tea room", hours=4, on=FRIDAY, old=1)]
    before = plan_making(jobs, bench=bench(tue=4, wed=4, thu=4)).sessions

    after = plan_making(jobs, bench=bench(tue=4, wed=0, thu=3), before=before)

    library, tea_room = plan_changes(before, after)
    assert library.job == "library"
    assert library.dropped == (Session(job="library", on=WEDNESDAY, minutes=120),)
    assert library.added == (Session(job="library", on=TUESDAY, minutes=120),)
    assert not library.gave_way
    assert tea_room.added == (Session(job="tea room", on=THURSDAY, minutes=180),)
    assert tea_room.short_minutes == 60
    assert tea_room.gave_way


def test_a_job_with_no_hours_at_all_is_short_of_all_of_it() -> None:
    plan = plan_making([job()], bench=bench(thu=0))

    assert plan.sessions == ()
    assert plan.short == (Short(job="library", minutes=180),)


def test_no_jobs_need_no_plan() -> None:
    plan = plan_making([], bench=bench(thu=8))

    assert plan.fits
    assert plan.sessions == ()


@pytest.mark.parametrize(("hours", "days"), [(8, 0), (24, 1), (36, 1), (48, 2)])
def test_balloons_keep_whole_days(hours: float, days: int) -> None:
    assert oldest_days(hours) == days


def test_the_same_job_twice_and_impossible_numbers_are_refused() -> None:
    with pytest.raises(ValueError, match="twice"):
        plan_making([job(), job()], bench=bench(thu=8))
    with pytest.raises(ValueError, match="below zero"):
        job(hours=-1)
    with pytest.raises(ValueError, match="at least 30"):
        bench(session_hours=0.25, thu=8)
