from datetime import date

import pytest

from decor.models import Business, Job
from decor.models.job import Stage
from decor.models.payment import DueKind
from decor.payments.service import PlannedDue, schedule_set
from quoting.models import ClientAnswer
from quoting.models.client_page import AnswerKind, Outcome
from tests.factories import ExtraLineFactory, ItemFactory, JobFactory, QuoteFactory
from tests.quoting.promise.sending import NOW, TODAY, sent

EVENT_ON = date(2026, 6, 23)
TOTAL = 587_55


@pytest.fixture
def job(business: Business) -> Job:
    """Promised for 587.55 in all, 293.78 of it down, ten days before its day."""
    job = JobFactory(stage=Stage.PROMISED, event_on=EVENT_ON)
    ItemFactory()
    quote = QuoteFactory(number="LL-1042", job=job)
    ExtraLineFactory(quote=quote)
    edition = sent(quote)
    ClientAnswer.objects.create(
        edition=edition,
        kind=AnswerKind.ACCEPTED,
        typed_name="Imogen Vale",
        outcome=Outcome.HELD,
        at=NOW,
        timezone="America/New_York",
        pdf_sha256=edition.pdf_sha256,
    )
    agree(job)
    return job


def agree(job: Job) -> None:
    dues = [
        PlannedDue(DueKind.DEPOSIT, TODAY, 293_78),
        PlannedDue(DueKind.BALANCE, date(2026, 6, 18), 293_77),
    ]
    schedule_set(job=job, dues=dues, source="LL-1042, edition 1", now=NOW)
