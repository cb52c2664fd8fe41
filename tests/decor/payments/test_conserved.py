"""Whatever is entered in whatever order, no cent is lost, made or counted twice."""

from datetime import UTC, date, datetime, timedelta

import pytest
from django.db import transaction
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from decor.models import Job, PaymentLine
from decor.models.payment import DueKind, Means
from decor.payments.account import account_of
from decor.payments.service import (
    PaymentRefused,
    PlannedDue,
    payment_correct,
    payment_refund,
    payment_take,
    schedule_set,
)
from tests.factories import JobFactory

TODAY = date(2026, 6, 13)
NOW = datetime(2026, 6, 13, 15, tzinfo=UTC)

cents = st.integers(0, 500)
acts = st.one_of(
    st.tuples(st.just("take"), cents),
    st.tuples(st.just("refund"), cents),
    st.tuples(st.just("correct"), st.integers(0, 9)),
    st.tuples(st.just("agree"), st.lists(cents, max_size=4)),
)


@pytest.mark.django_db
@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(done=st.lists(acts, max_size=12), days=st.integers(0, 40))
def test_every_cent_is_in_one_place(db: None, done: list[tuple], days: int) -> None:
    with transaction.atomic():
        job = JobFactory(stage="promised")
        entered = sum(_done(job, what, with_what) for what, with_what in done)
        account = account_of(job, today=TODAY + timedelta(days=days))
        counted = sum(line.paid_cents for line in account.dues)
        assert account.paid_cents == entered >= 0
        assert all(0 <= line.paid_cents <= line.due.amount_cents for line in account.dues)
        assert counted + account.balance_cents == account.owed_cents
        assert counted == min(account.paid_cents, account.owed_cents)
        if account.has_schedule:
            assert counted + account.refund_due_cents == account.paid_cents
        assert 0 <= account.overdue_cents <= account.balance_cents
        transaction.set_rollback(True)


def _done(job: Job, what: str, with_what: int | list[int]) -> int:
    """The cents by which it should have changed what is paid."""
    entry = {"means": Means.CASH, "on": TODAY, "note": "", "by": None, "now": NOW}
    try:
        if what == "agree":
            dues = [
                PlannedDue(DueKind.OTHER, TODAY + timedelta(days=10 * n), amount)
                for n, amount in enumerate(with_what)
            ]
            schedule_set(job=job, dues=dues, source="", now=NOW)
            return 0
        if what == "correct":
            lines = list(PaymentLine.objects.filter(job=job))
            if not lines:
                return 0
            line = lines[with_what % len(lines)]
            return payment_correct(line=line, note="", by=None, now=NOW).amount_cents
        if what == "take":
            payment_take(job=job, amount_cents=with_what, **entry)
            return with_what
        payment_refund(job=job, amount_cents=with_what, **entry)
        return -with_what
    except PaymentRefused:
        return 0
