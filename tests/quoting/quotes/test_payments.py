from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quoting.estimator import Rates
from quoting.quotes.payments import PaymentPlan, payment_plan

TODAY = date(2026, 6, 13)
EVENT = date(2026, 7, 4)


def plan(total_cents: int, **rates: int) -> PaymentPlan:
    return payment_plan(total_cents, rates=Rates(**rates), event_on=EVENT, today=TODAY)


def test_an_odd_cent_goes_to_the_deposit() -> None:
    """587.55 is 293.78 and 293.77: half up, and the rest (recomputed with Python's decimal)."""
    made = plan(58755, deposit_bp=5000)

    assert (made.deposit_cents, made.balance_cents) == (29378, 29377)


def test_the_balance_is_due_so_many_days_before_the_event() -> None:
    assert plan(10000, balance_days=5).balance_on == date(2026, 6, 29)


@pytest.mark.parametrize("days", [21, 22, 40])
def test_when_the_balances_day_has_come_all_is_due_on_acceptance(days: int) -> None:
    made = plan(10000, balance_days=days)

    assert (made.deposit_cents, made.balance_cents, made.balance_on) == (10000, 0, None)


def test_a_day_before_the_balances_day_it_is_still_split() -> None:
    assert plan(10000, balance_days=20).balance_cents == 5000


def test_with_no_deposit_the_whole_is_the_balance() -> None:
    made = plan(10000, deposit_bp=0)

    assert (made.deposit_cents, made.balance_cents) == (0, 10000)


def test_a_whole_deposit_leaves_no_balance_and_no_day_for_it() -> None:
    assert plan(10000, deposit_bp=10_000).balance_on is None


@given(
    total=st.integers(0, 10**9),
    deposit_bp=st.integers(0, 10_000),
    balance_days=st.integers(0, 365),
    notice=st.integers(-5, 400),
)
def test_deposit_and_balance_are_the_total(
    total: int, deposit_bp: int, balance_days: int, notice: int
) -> None:
    made = payment_plan(
        total,
        rates=Rates(deposit_bp=deposit_bp, balance_days=balance_days),
        event_on=TODAY + timedelta(days=notice),
        today=TODAY,
    )

    assert made.deposit_cents + made.balance_cents == total
    assert made.deposit_cents >= 0
    assert made.balance_cents >= 0
    assert made.balance_on is None or made.balance_on > TODAY


def test_a_plan_that_does_not_add_up_cannot_exist() -> None:
    with pytest.raises(ValueError, match="do not add up"):
        PaymentPlan(total_cents=100, deposit_cents=50, balance_cents=49, balance_on=EVENT)


def test_a_balance_without_a_day_cannot_exist() -> None:
    with pytest.raises(ValueError, match="day to be paid by"):
        PaymentPlan(total_cents=100, deposit_cents=50, balance_cents=50, balance_on=None)
