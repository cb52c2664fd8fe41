from datetime import UTC, date, datetime

import pytest
import time_machine

from decor.calendar.sessions import session_plan
from decor.models.job import Stage
from quoting.models import Quote
from quoting.models.quote import QuoteStage
from quoting.quotes.dated import making_day_events, quote_end_events
from tests.factories import JobFactory, PieceFactory, QuoteFactory
from tests.quoting.quotes.sending import send

pytestmark = pytest.mark.django_db
NOW = datetime(2026, 6, 13, 15, 0, tzinfo=UTC)
JUNE = (date(2026, 6, 1), date(2026, 6, 30))


@pytest.fixture(autouse=True)
def on_the_13th():
    with time_machine.travel(NOW, tick=False):
        yield


def test_a_promised_job_is_made_the_day_before_until_hours_are_planned(business):
    job = JobFactory(stage=Stage.PROMISED)
    JobFactory(stage=Stage.QUOTED)
    (event,) = making_day_events(*JUNE)
    assert (event.starts, event.ends) == (date(2026, 6, 19), date(2026, 6, 19))
    assert not list(making_day_events(date(2026, 6, 20), date(2026, 6, 30)))
    assert list(making_day_events(date(2026, 6, 19), date(2026, 6, 19)))
    session_plan(job=job, on=date(2026, 6, 18), minutes=60, now=NOW)
    assert not list(making_day_events(*JUNE))


def test_what_is_for_today_is_made_today_and_what_has_gone_the_day_before(business):
    JobFactory(stage=Stage.PROMISED, event_on=date(2026, 6, 13))
    JobFactory(stage=Stage.PROMISED, event_on=date(2026, 6, 10))
    assert {event.starts.day for event in making_day_events(*JUNE)} == {13, 10}


@pytest.mark.usefixtures("catalogue")
def test_a_quote_ends_by_its_newest_edition_while_it_waits_for_an_answer(business):
    quote = QuoteFactory(job__stage=Stage.QUOTED)
    PieceFactory(quote=quote)
    send(quote)
    (event,) = quote_end_events(*JUNE)
    assert (event.starts, event.is_about_money) == (quote.expires_on, True)
    assert (event.sequence, event.title) == (0, f"{quote.number}, Reading-week arch")
    for stage in (QuoteStage.ACCEPTED, QuoteStage.DECLINED):
        Quote.objects.update(stage=stage)
        assert not list(quote_end_events(*JUNE))
