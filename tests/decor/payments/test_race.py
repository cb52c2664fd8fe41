"""Several presses in the same moment, each on a connection of its own."""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime
from threading import Barrier

import pytest
from django.db import connection

from decor.models import Job, PaymentLine
from decor.models.payment import Means
from decor.payments.service import (
    PaymentRefused,
    paid_for,
    payment_correct,
    payment_refund,
    payment_take,
)
from tests.conftest import TODAY
from tests.factories import JobFactory

pytestmark = pytest.mark.django_db(transaction=True)
NOW = datetime(2026, 6, 13, 15, tzinfo=UTC)
AT_ONCE = 6
ENTRY = {"means": Means.CASH, "on": TODAY, "note": "", "by": None, "now": NOW}


def at_once(act: Callable[[], PaymentLine]) -> list[PaymentLine]:
    """What each of them got; who was refused got nothing."""
    together = Barrier(AT_ONCE)

    def one(_: int) -> PaymentLine | None:
        try:
            together.wait(timeout=20)
            return act()
        except PaymentRefused:
            return None
        finally:
            connection.close()

    with ThreadPoolExecutor(AT_ONCE) as pool:
        return [line for line in pool.map(one, range(AT_ONCE)) if line]


def test_of_many_who_do_the_same_at_once_it_is_done_once() -> None:
    job: Job = JobFactory()

    taken = at_once(lambda: payment_take(job=job, amount_cents=100, entry_key="press", **ENTRY))
    assert len(set(taken)) == 1 and len(taken) == AT_ONCE

    given_back = at_once(lambda: payment_refund(job=job, amount_cents=100, **ENTRY))
    assert len(given_back) == 1 and paid_for(job) == 0

    corrected = at_once(lambda: payment_correct(line=given_back[0], note="", by=None, now=NOW))
    assert len(corrected) == 1 and paid_for(job) == 100
