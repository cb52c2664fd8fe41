"""Phones that accept at once, each a process: on the database under test, SQLite's file or
PostgreSQL."""

from collections import Counter

import pytest

from decor.models import Letter
from decor.models.visit import Visit, VisitKind
from quoting.models import ClientAnswer
from tests.factories import ClientFactory, JobFactory, PieceFactory, QuoteFactory, SiteFactory
from tests.processes import race, racers
from tests.quoting.promise.accepting import promised
from tests.quoting.promise.sending import sent

pytestmark = pytest.mark.django_db(transaction=True)

PHONES = 4


def test_of_phones_that_accept_at_once_one_wins_and_all_see_its_receipt(quote, business):
    one = sent(quote)
    names = [f"Phone {number}" for number in range(PHONES)]
    with racers("tests.quoting.promise.racer", *names) as phones:
        said = race(phones, [str(one.pk)] * PHONES)
        answer = ClientAnswer.objects.get()
        assert set(said) == {f"held {answer.pk}"}
        assert (Letter.objects.count(), promised(quote.job)["holds"] > 0) == (1, True)
        assert quote.job.stage_moves.count() == 1

        # And four clients, each with an edition of their own, who want the very same hour.
        rivals = [_rival(number, quote.rate_card) for number in range(PHONES)]
        said = race(phones, [str(rival.pk) for rival in rivals])
        assert Counter(word.split()[0] for word in said.elements()) == {
            "held": 1,
            "time_taken": PHONES - 1,
        }
        installs = Visit.objects.filter(kind=VisitKind.INSTALL, job__in=_jobs(rivals))
        assert installs.count() == 1


def _rival(number: int, rate_card):
    client = ClientFactory(name=f"Client {number}")
    site = SiteFactory(client=client, name=f"Porch {number}")
    job = JobFactory(client=client, site=site, stage="quoted", event_on="2026-07-11")
    quote = QuoteFactory(job=job, rate_card=rate_card)
    PieceFactory(quote=quote)
    return sent(quote)


def _jobs(editions):
    return [edition.quote.job_id for edition in editions]
