from datetime import date

import pytest

from decor.models.job import Stage
from quoting.reports.margin import margin_report
from quoting.reports.period import Period
from tests.quoting.reports.books import answered, job_at, noon, sent
from tests.quoting.reports.test_money import amounts
from tests.quoting.reports.test_quoted import plain

pytestmark = pytest.mark.django_db
SPRING = Period(date(2026, 4, 1), date(2026, 5, 31))
APRIL, MAY = noon(date(2026, 4, 10)), noon(date(2026, 5, 10))


def test_margin_is_price_less_cost_per_job_by_month_and_in_all():
    """A margin of 37.5 % is 150.00 of a price of 400.00 (a share of the price, not of the cost)."""
    answered(sent(job_at(Stage.PROMISED), APRIL, net=400_00, cost=250_00), APRIL)
    answered(sent(job_at(Stage.DONE), MAY, net=100_01, cost=90_00), MAY)
    answered(sent(job_at(Stage.CALLED_OFF), MAY, net=999_00, cost=1_00), MAY)
    sent(job_at(Stage.QUOTED), MAY)
    report = margin_report(SPRING)
    months, jobs = report.tables
    assert [plain(row)[1:] for row in months.rows] == [
        [400_00, 250_00, 150_00, 3750],
        [100_01, 90_00, 10_01, 1001],
    ]
    assert plain(months.total)[1:] == [500_01, 340_00, 160_01, 3200]
    assert amounts(jobs.total) == amounts(months.total)
    assert [sum(column) for column in zip(*map(amounts, jobs.rows), strict=True)] == amounts(
        months.total
    )
    assert report.headline.cents == 160_01


def test_of_a_quote_accepted_twice_the_newest_edition_counts_in_its_own_month():
    job = job_at(Stage.PROMISED)
    answered(sent(job, APRIL, net=400_00, cost=250_00), APRIL)
    answered(sent(job, MAY, net=500_00, cost=260_00), MAY)
    months, jobs = margin_report(SPRING).tables
    assert [amounts(row) for row in months.rows] == [[0, 0, 0], [500_00, 260_00, 240_00]]
    assert len(jobs.rows) == 1
    before = margin_report(Period(date(2026, 4, 1), date(2026, 4, 30)))
    assert before.headline.cents == 150_00


def test_the_cost_is_that_of_the_variants_chosen():
    kept = [
        {"chosen": {"1": 7}, "cost_cents": 250_00},
        {"chosen": {"1": 8}, "cost_cents": 310_00},
    ]
    edition = sent(job_at(Stage.PROMISED), APRIL, net=400_00, cost=250_00, combinations=kept)
    answered(edition, APRIL, net=480_00, chosen={"1": 8})
    assert amounts(margin_report(SPRING).tables[0].total) == [480_00, 310_00, 170_00]


def test_where_that_cost_was_not_kept_the_job_is_left_out_and_named():
    edition = sent(job_at(Stage.PROMISED), APRIL, combinations=[{"chosen": {"1": 8}}])
    answered(edition, APRIL, chosen={"1": 8})
    report = margin_report(SPRING)
    assert report.headline.cents == 0
    assert edition.quote.number in report.notes[-1]
    assert report.has_any
