from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

import pytest
from django.utils import timezone

from decor.models.job import Stage
from quoting.reports.period import Period
from quoting.reports.quoted import NO_REASON, quoted_report
from quoting.reports.table import Amount, Count, Share
from tests.factories import JobFactory
from tests.quoting.reports.books import answered, job_at, noon, sent

pytestmark = pytest.mark.django_db
SPRING = Period(date(2026, 4, 1), date(2026, 5, 31))
APRIL = noon(date(2026, 4, 10))
MAY = noon(date(2026, 5, 10))


def plain(row: tuple) -> list:
    values = {Count: "number", Amount: "cents", Share: "basis_points"}
    return [getattr(cell, values.get(type(cell), "text")) for cell in row]


def test_each_job_counts_once_in_the_month_of_its_first_quote():
    won = job_at(Stage.PROMISED)
    sent(won, APRIL, net=300_00)
    answered(sent(won, MAY, net=350_00), MAY, net=410_00)
    sent(job_at(Stage.LOST, why="Too dear."), APRIL, net=200_00)
    sent(job_at(Stage.LET_GO, why="No day free"), MAY, net=100_00)
    sent(job_at(Stage.QUOTED), MAY, net=90_00)
    sent(job_at(Stage.DONE), noon(date(2026, 3, 31)), net=1_00)
    JobFactory(stage=Stage.DONE)

    months, _ = quoted_report(SPRING).tables
    assert [plain(row)[1:] for row in months.rows] == [
        [2, 1, 1, 0, 0, 5000, 550_00, 410_00],
        [2, 0, 0, 1, 1, 0, 190_00, 0],
    ]
    jobs, won_, lost, let_go, is_open, share, quoted, won_cents = plain(months.total)[1:]
    assert jobs == won_ + lost + let_go + is_open == 4
    assert (quoted, won_cents) == (740_00, 410_00)
    assert share == 3333  # one of the three that are decided


def test_where_nothing_is_decided_yet_there_is_no_share():
    sent(job_at(Stage.QUOTED), MAY)
    months, _ = quoted_report(SPRING).tables
    assert plain(months.total)[6] is None


def test_reasons_that_are_alike_are_one_and_the_clients_words_come_first():
    for why in ("Too dear.", "too  dear", "They had no room"):
        sent(job_at(Stage.LOST, why=why), APRIL, net=100_00)
    declined = sent(job_at(Stage.LOST, why="Declined on the client page"), MAY, net=70_00)
    answered(declined, MAY, accepted=False, reason="The twins want a pony")
    sent(job_at(Stage.CALLED_OFF, why="The hall flooded"), MAY, net=50_00)
    sent(job_at(Stage.LET_GO), MAY, net=40_00)
    _, reasons = quoted_report(SPRING).tables
    assert [plain(row) for row in reasons.rows] == [
        ["Too dear.", "Lost", 2, 200_00],
        ["They had no room", "Lost", 1, 100_00],
        ["The twins want a pony", "Lost", 1, 70_00],
        ["The hall flooded", "Called off", 1, 50_00],
        [NO_REASON, "Let go", 1, 40_00],
    ]


def test_months_end_at_midnight_where_the_business_is():
    """03:59 UTC on 1 May is 23:59 on 30 April in New York (UTC−4 in summer)."""
    sent(job_at(Stage.QUOTED), datetime(2026, 5, 1, 3, 59, tzinfo=UTC))
    sent(job_at(Stage.QUOTED), datetime(2026, 5, 1, 4, 0, tzinfo=UTC))
    sent(job_at(Stage.QUOTED), datetime(2026, 6, 1, 3, 59, tzinfo=UTC))
    sent(job_at(Stage.QUOTED), datetime(2026, 6, 1, 4, 0, tzinfo=UTC))
    with timezone.override(ZoneInfo("America/New_York")):
        months, _ = quoted_report(SPRING).tables
    assert [plain(row)[1] for row in months.rows] == [1, 2]
