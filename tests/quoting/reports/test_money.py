from datetime import date

import pytest
from django.db.models import Sum

from decor.models import PaymentLine
from quoting.reports.money import money_report
from quoting.reports.period import Period
from quoting.reports.table import Amount
from tests.factories import JobFactory
from tests.quoting.reports.books import corrected, paid

pytestmark = pytest.mark.django_db
SPRING = Period(date(2026, 3, 1), date(2026, 5, 31))


def amounts(row: tuple) -> list[int]:
    return [cell.cents for cell in row if isinstance(cell, Amount)]


def test_each_month_has_what_came_and_went_on_its_days_and_all_add_up_to_the_ledger():
    job, other = JobFactory(), JobFactory()
    paid(job, 100_01, date(2026, 3, 1))
    paid(job, 50_02, date(2026, 3, 31))
    paid(other, 200_03, date(2026, 4, 1))
    paid(job, -30_05, date(2026, 4, 30))
    paid(job, 9_99, date(2026, 2, 28))
    paid(job, 8_88, date(2026, 6, 1))
    (months,) = money_report(SPRING).tables
    assert [amounts(row) for row in months.rows] == [
        [150_03, 0, 150_03],
        [200_03, 30_05, 169_98],
        [0, 0, 0],
    ]
    ledger = PaymentLine.objects.filter(on__range=(SPRING.first, SPRING.last))
    in_all = ledger.aggregate(all=Sum("amount_cents"))["all"]
    assert amounts(months.total) == [350_06, 30_05, in_all]
    assert money_report(SPRING).headline == Amount(in_all)


def test_a_line_that_was_corrected_counts_neither_as_in_nor_as_out():
    job = JobFactory()
    paid(job, 100_00, date(2026, 3, 5))
    slip = paid(job, 1000_00, date(2026, 3, 31))
    corrected(slip, date(2026, 5, 2))
    refund_slip = paid(job, -40_00, date(2026, 4, 2))
    corrected(refund_slip, date(2026, 5, 2))
    (months,) = money_report(SPRING).tables
    assert [amounts(row) for row in months.rows] == [[100_00, 0, 100_00], [0, 0, 0], [0, 0, 0]]


def test_without_money_there_is_nothing_to_tell():
    assert not money_report(SPRING).has_any
