"""Phones that accept at once, each a process: on the database under test, SQLite's file or
PostgreSQL."""

import subprocess
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from decor.models import Letter
from decor.models.visit import Visit, VisitKind
from quoting.models import ClientAnswer
from tests.factories import ClientFactory, JobFactory, PieceFactory, QuoteFactory, SiteFactory
from tests.processes import python
from tests.quoting.promise.accepting import promised
from tests.quoting.promise.sending import sent

pytestmark = pytest.mark.django_db(transaction=True)

PHONES = 4


@contextmanager
def phones() -> Iterator[list[subprocess.Popen[str]]]:
    pipes = {"stdin": subprocess.PIPE, "stdout": subprocess.PIPE}
    names = [f"Phone {number}" for number in range(PHONES)]
    racers = [python("tests.quoting.promise.racer", name, **pipes) for name in names]
    try:
        assert {racer.stdout.readline().strip() for racer in racers} == {"ready"}
        yield racers
    finally:
        for racer in racers:
            racer.stdin.close()
            racer.wait(timeout=30)
            racer.stdout.close()


def accept_at_once(racers: list[subprocess.Popen[str]], editions: list[int]) -> list[str]:
    for racer, edition in zip(racers, editions, strict=True):
        racer.stdin.write(f"{edition}\n")
    for racer in racers:
        racer.stdin.flush()
    return [racer.stdout.readline().strip() for racer in racers]


def test_of_phones_that_accept_at_once_one_wins_and_all_see_its_receipt(quote, business):
    one = sent(quote)
    with phones() as racers:
        said = accept_at_once(racers, [one.pk] * PHONES)
        answer = ClientAnswer.objects.get()
        assert set(said) == {f"held {answer.pk}"}
        assert (Letter.objects.count(), promised(quote.job)["holds"] > 0) == (1, True)
        assert quote.job.stage_moves.count() == 1

        # And four clients, each with an edition of their own, who want the very same hour.
        rivals = [_rival(number, quote.rate_card) for number in range(PHONES)]
        said = accept_at_once(racers, [rival.pk for rival in rivals])
        assert Counter(word.split()[0] for word in said) == {"held": 1, "time_taken": PHONES - 1}
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
