"""When a client pays what."""

from dataclasses import dataclass
from datetime import date, timedelta

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
    """With no time left between today and the balance's day, all of it is due on acceptance."""
    balance_on = event_on - timedelta(days=rates.balance_days) if event_on else None
    deposit = share_bp(total_cents, rates.deposit_bp)
    if balance_on is None or balance_on <= today or deposit == total_cents:
        deposit, balance_on = total_cents, None
    return PaymentPlan(
        total_cents=total_cents,
        deposit_cents=deposit,
        balance_cents=total_cents - deposit,
        balance_on=balance_on,
    )
