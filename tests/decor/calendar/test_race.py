"""Three who want the same hour at once, each a process, on the database under test. The same race
without locks is run first, to show that it is one."""

from collections import Counter
from datetime import date, timedelta

import pytest

from decor.crew.service import crew_at_work
from decor.models import Visit
from tests.factories import BusinessFactory, JobFactory
from tests.processes import Racer, race, racers

pytestmark = pytest.mark.django_db(transaction=True)
RACERS, ROUNDS, ROUNDS_WITHOUT_LOCKS = 3, 10, 15
FIRST = date(2026, 7, 1)


def go(planners: list[Racer], how: str, day: date) -> Counter[str]:
    return race(planners, [f"{how} {day}"] * RACERS)


def test_of_those_who_want_the_same_hour_one_gets_it_but_without_locks_more_do():
    BusinessFactory()
    crew_at_work()
    jobs = [JobFactory(title=f"Job {n}") for n in range(RACERS)]
    with racers("tests.decor.calendar.racer", *(str(job.pk) for job in jobs)) as planners:
        loose = [
            go(planners, "without-locks", FIRST + timedelta(days=n))["planned"]
            for n in range(ROUNDS_WITHOUT_LOCKS)
        ]
        assert max(loose) > 1
        Visit.objects.all().delete()
        for n in range(ROUNDS):
            answers = go(planners, "with-locks", FIRST + timedelta(days=n))
            assert answers == {"planned": 1, "clash": RACERS - 1}
        assert Visit.objects.count() == ROUNDS
