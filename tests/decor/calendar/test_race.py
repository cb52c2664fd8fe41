"""Three who want the same hour at once, each a process, on the database under test. The same race
without locks is run first, to show that it is one."""

import subprocess
from collections import Counter
from datetime import date, timedelta

import pytest

from decor.crew.service import crew_at_work
from decor.models import Visit
from tests.factories import BusinessFactory, JobFactory
from tests.processes import python

pytestmark = pytest.mark.django_db(transaction=True)
RACERS, ROUNDS, ROUNDS_WITHOUT_LOCKS = 3, 10, 15
FIRST = date(2026, 7, 1)


def race(racers: list[subprocess.Popen[str]], how: str, day: date) -> Counter[str]:
    for racer in racers:
        racer.stdin.write(f"{how} {day}\n")
    for racer in racers:
        racer.stdin.flush()
    return Counter(racer.stdout.readline().strip() for racer in racers)


def test_of_those_who_want_the_same_hour_one_gets_it_but_without_locks_more_do():
    BusinessFactory()
    crew_at_work()
    jobs = [JobFactory(title=f"Job {n}") for n in range(RACERS)]
    pipes = {"stdin": subprocess.PIPE, "stdout": subprocess.PIPE}
    racers = [python("tests.decor.calendar.racer", str(job.pk), **pipes) for job in jobs]
    try:
        assert {racer.stdout.readline().strip() for racer in racers} == {"ready"}
        loose = [
            race(racers, "without-locks", FIRST + timedelta(days=n))["planned"]
            for n in range(ROUNDS_WITHOUT_LOCKS)
        ]
        assert max(loose) > 1
        Visit.objects.all().delete()
        for n in range(ROUNDS):
            answers = race(racers, "with-locks", FIRST + timedelta(days=n))
            assert answers == {"planned": 1, "clash": RACERS - 1}
        assert Visit.objects.count() == ROUNDS
    finally:
        for racer in racers:
            racer.stdin.close()
            racer.wait(timeout=30)
            racer.stdout.close()
