"""When a client pays what."""

from dataclasses import dataclass
from datetime import date, timedelta

from decor.models.payment import DueKind
from decor.payments.service import PlannedDue
from quoting.estimator import Rates
from quoting.estimator.money import share_bp


@dataclass(frozen=True, kw_only=True)
class PaymentPlan:
    """The deposit is due on acceptance, the balance by `balance_on`. Adds up, to the cent."""

    total_cents: int
    deposit_cents: int
    balance_cents: int
    balance_on: date | None

    def __post_init__(self) -> None:
        if self.deposit_cents + self.balance_cents != self.total_cents:
            raise ValueError("deposit and balance do not add up to the total")
        if self.balance_cents and self.balance_on is None:
            raise ValueError("a balance needs a day to be paid by")


def payment_plan(
    total_cents: int, *, rates: Rates, event_on: date | None, today: date
) -> PaymentPlan:
    """All of it is due on acceptance where the order is small, or where no time is left between
    today and the balance's day."""
    balance_on = event_on - timedelta(days=rates.balance_days) if event_on else None
    deposit = share_bp(total_cents, rates.deposit_bp)
    is_small = total_cents < rates.small_order_cents
    if is_small or balance_on is None or balance_on <= today or deposit == total_cents:
        deposit, balance_on = total_cents, None
    return PaymentPlan(
        total_cents=total_cents,
        deposit_cents=deposit,
        balance_cents=total_cents - deposit,
        balance_on=balance_on,
    )


def dues_of(plan: PaymentPlan, *, on: date) -> tuple[PlannedDue, ...]:
    """What is to be paid once a client accepted `on` that day, to the cent of the plan's total.
    Even of nothing there is a line: that nothing is owed is agreed too.

    Accepted later than was thought, when the balance's day has come, all of it is due at once.
    """
    if not plan.balance_cents or plan.balance_on <= on:
        return (PlannedDue(DueKind.WHOLE, on, plan.total_cents),)
    balance = PlannedDue(DueKind.BALANCE, plan.balance_on, plan.balance_cents)
    deposit = PlannedDue(DueKind.DEPOSIT, on, plan.deposit_cents)
    return (deposit, balance) if plan.deposit_cents else (balance,)
