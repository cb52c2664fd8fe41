from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from decor.models import Job, PaymentDue
from decor.models.job import Stage
from decor.models.payment import DueKind
from quoting.reports.held import Line, Paid, _net_by_month, held_report
from quoting.reports.period import Period
from tests.factories import JobFactory
from tests.quoting.reports.books import job_at, noon, paid
from tests.quoting.reports.test_money import amounts

SPRING = Period(date(2026, 4, 1), date(2026, 5, 31))


@pytest.mark.django_db
def test_money_is_held_until_the_day_of_the_event():
    party = JobFactory(event_on=date(2026, 5, 20))
    paid(party, 100_00, date(2026, 3, 31))
    paid(party, 60_00, date(2026, 4, 15))
    paid(party, -10_00, date(2026, 4, 16))
    paid(party, 5_00, date(2026, 5, 25))  # after the day: hers at once
    fair = JobFactory(event_on=date(2026, 6, 1), title="Fair")
    paid(fair, 70_00, date(2026, 5, 31))
    undated = JobFactory(event_on=None, title="Some day")
    paid(undated, 3_00, date(2026, 5, 1))
    months, jobs = held_report(SPRING).tables
    assert [amounts(row) for row in months.rows] == [
        [100_00, 50_00, 0, 150_00],
        [150_00, 78_00, 155_00, 73_00],
    ]
    assert amounts(months.total) == [100_00, 128_00, 155_00, 73_00]
    assert [(row[0].text, row[-1].cents) for row in jobs.rows] == [
        ("Fair", 70_00),
        ("Some day", 3_00),
    ]
    assert amounts(jobs.total) == [73_00]


@pytest.mark.django_db
@pytest.mark.parametrize(("on", "held"), [(date(2026, 5, 19), 100_00), (date(2026, 5, 20), 0)])
def test_on_the_day_itself_it_is_hers(on, held):
    paid(JobFactory(event_on=date(2026, 5, 20)), 100_00, date(2026, 5, 1))
    assert held_report(Period(on, on)).headline.cents == held


@pytest.mark.django_db
def test_of_a_job_called_off_only_what_is_to_be_given_back_is_held():
    job = job_at(Stage.CALLED_OFF, why="Rain", on=date(2026, 5, 10), event_on=date(2026, 7, 1))
    paid(job, 100_00, date(2026, 4, 5))
    PaymentDue.objects.create(
        job=job, kind=DueKind.CALLING_OFF, due_on=date(2026, 5, 10), amount_cents=30_00,
        set_at=noon(date(2026, 5, 10)),
    )  # fmt: skip
    months, jobs = held_report(SPRING).tables
    assert [amounts(row) for row in months.rows] == [
        [0, 100_00, 0, 100_00],
        [100_00, 0, 30_00, 70_00],
    ]
    assert jobs.rows[0][2].text == "Called off: to give back"
    paid(job, -70_00, date(2026, 5, 12))
    months, jobs = held_report(SPRING).tables
    assert [amounts(row)[-1] for row in months.rows] == [100_00, 0]
    assert not jobs.rows


@given(
    st.lists(st.tuples(st.integers(-40, 80), st.integers(-9_999, 99_999)), min_size=1, max_size=12)
)
@settings(max_examples=50)
def test_each_line_of_a_period_is_in_one_of_its_months(moved):
    lines = tuple(Line(SPRING.first + timedelta(days=day), cents) for day, cents in moved)
    ends = [SPRING.before, *(month.last for month in SPRING.months)]
    within = tuple(line for line in lines if line.on <= SPRING.last)
    net = _net_by_month([Paid(Job(), within, None, 0)], ends)
    expected = sum(line.cents for line in lines if SPRING.first <= line.on <= SPRING.last)
    assert sum(net) == expected
