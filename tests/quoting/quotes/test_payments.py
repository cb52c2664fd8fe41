from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from decor.models.payment import DueKind
from decor.payments.service import PlannedDue
from quoting.estimator import Rates
from quoting.quotes.payments import PaymentPlan, dues_of, payment_plan

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


@pytest.mark.parametrize(("total", "deposit"), [(19_999, 19_999), (20_000, 10_000)])
def test_an_order_below_the_small_one_is_paid_in_full_at_once(total: int, deposit: int) -> None:
    assert plan(total, small_order_cents=20_000).deposit_cents == deposit


@given(
    total=st.integers(0, 10**9),
    deposit_bp=st.integers(0, 10_000),
    balance_days=st.integers(0, 365),
    small_order_cents=st.integers(0, 10**8),
    notice=st.integers(-5, 400),
    accepted_after=st.integers(0, 400),
)
def test_no_cent_of_a_total_is_lost_on_its_way_into_the_schedule(
    total: int,
    deposit_bp: int,
    balance_days: int,
    small_order_cents: int,
    notice: int,
    accepted_after: int,
) -> None:
    rates = Rates(
        deposit_bp=deposit_bp, balance_days=balance_days, small_order_cents=small_order_cents
    )
    event_on = TODAY + timedelta(days=notice)
    made = payment_plan(total, rates=rates, event_on=event_on, today=TODAY)

    assert made.deposit_cents + made.balance_cents == total
    assert made.deposit_cents >= 0
    assert made.balance_cents >= 0
    assert made.balance_on is None or made.balance_on > TODAY

    on = TODAY + timedelta(days=accepted_after)
    dues = dues_of(made, on=on)
    assert sum(due.amount_cents for due in dues) == total
    assert all(due.amount_cents > 0 for due in dues) or total == 0
    assert all(due.due_on >= on for due in dues)


def test_deposit_on_acceptance_balance_on_its_day() -> None:
    made = plan(58755)
    assert dues_of(made, on=TODAY) == (
        PlannedDue(DueKind.DEPOSIT, TODAY, 29378),
        PlannedDue(DueKind.BALANCE, date(2026, 6, 29), 29377),
    )


def test_accepted_when_the_balances_day_has_come_the_whole_is_due_at_once() -> None:
    late = date(2026, 6, 29)
    assert dues_of(plan(58755), on=late) == (PlannedDue(DueKind.WHOLE, late, 58755),)


def test_what_costs_nothing_is_agreed_to_cost_nothing() -> None:
    assert dues_of(plan(0), on=TODAY) == (PlannedDue(DueKind.WHOLE, TODAY, 0),)


def test_with_no_deposit_asked_for_there_is_a_balance_only() -> None:
    (due,) = dues_of(plan(10000, deposit_bp=0), on=TODAY)
    assert (due.kind, due.amount_cents) == (DueKind.BALANCE, 10000)


def test_a_plan_that_does_not_add_up_cannot_exist() -> None:
    with pytest.raises(ValueError, match="do not add up"):
        PaymentPlan(total_cents=100, deposit_cents=50, balance_cents=49, balance_on=EVENT)


def test_a_balance_without_a_day_cannot_exist() -> None:
    with pytest.raises(ValueError, match="day to be paid by"):
        PaymentPlan(total_cents=100, deposit_cents=50, balance_cents=50, balance_on=None)
