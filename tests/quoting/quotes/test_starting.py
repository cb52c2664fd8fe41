from datetime import date

import pytest
from django.utils import timezone

from decor.jobs.service import job_archive
from decor.models import Business
from quoting.models import RateCard
from quoting.models.quote import QuoteStage
from quoting.quotes.service import JOB_IS_ARCHIVED, QuoteRefused, quote_start, usual_expiry
from tests.factories import JobFactory, RateCardFactory


@pytest.fixture
def rate_card(business: Business) -> RateCard:
    return RateCardFactory()


def test_a_quote_starts_as_a_draft_on_the_card_in_force_with_its_terms(
    rate_card: RateCard, today: date
) -> None:
    RateCardFactory(version=2, starts_on=date(2026, 9, 1), terms="Later terms")

    quote = quote_start(job=JobFactory(), today=today)

    assert (quote.stage, quote.rate_card, quote.terms) == (
        QuoteStage.DRAFT,
        rate_card,
        rate_card.terms,
    )
    assert quote.includes_strike
    assert not quote.is_outside_hours


def test_an_archived_job_gets_no_quote(rate_card: RateCard, today: date) -> None:
    job = JobFactory()
    job_archive(job=job, now=timezone.now())
    job.refresh_from_db()

    with pytest.raises(QuoteRefused, match=JOB_IS_ARCHIVED):
        quote_start(job=job, today=today)


@pytest.mark.parametrize(
    ("event_on", "expires_on"),
    [
        (None, date(2026, 6, 27)),
        (date(2026, 9, 1), date(2026, 6, 27)),  # two weeks
        (date(2026, 6, 28), date(2026, 6, 27)),
        (date(2026, 6, 20), date(2026, 6, 19)),  # the day before
        (date(2026, 6, 14), date(2026, 6, 13)),
        (date(2026, 6, 13), date(2026, 6, 13)),  # never in the past
        (date(2026, 6, 1), date(2026, 6, 13)),
    ],
)
def test_it_is_good_for_two_weeks_or_until_the_day_before(
    event_on: date | None, expires_on: date, today: date
) -> None:
    assert usual_expiry(event_on=event_on, today=today) == expires_on
