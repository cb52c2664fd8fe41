"""Sixteen clients, each a process, go for the last bags at once: on the database under test,
SQLite's file or PostgreSQL. The same race without locks is run first, to show that it is one."""

from collections import Counter
from datetime import date
from itertools import islice

import pytest
from django.db.models import Sum

from inventory.ledger.service import bags_receive
from inventory.models import Bag, Colour, Hold, Item
from inventory.models.hold import OPEN_STATES
from tests.factories import ColourFactory, JobFactory
from tests.inventory.holds.racer import NOW, WANTED
from tests.processes import Racer, race, racers

pytestmark = pytest.mark.django_db(transaction=True)

CLIENTS = 16
ROUNDS, ROUNDS_WITHOUT_LOCKS = 25, 10
BAG = 100
POSSIBLE = 2 * BAG // WANTED


def go(clients: list[Racer], how: str, items: list[int]) -> Counter[str]:
    """Every other client names the items the other way round, as deadlocks come of that."""
    orders = [items if at % 2 else items[::-1] for at in range(len(clients))]
    return race(clients, [" ".join([how, *map(str, order)]) for order in orders])


def two_items_with_two_bags(rounds: int) -> list[list[int]]:
    """Two balloons of one size for every round."""
    fern, oat = ColourFactory(key="fern"), ColourFactory(key="oat")
    pairs = [[_item(colour, n + 1) for colour in (fern, oat)] for n in range(rounds)]
    items = Item.objects.bulk_create(item for pair in pairs for item in pair)
    bags = [
        Bag(item=item, received_on=date(2026, 4, 2), cost_cents=1650, printed_count=BAG)
        for item in items
        for _ in range(2)
    ]
    bags_receive(bags=bags, by=None, now=NOW)
    return [[item.pk for item in pair] for pair in pairs]


def _item(colour: Colour, size: int) -> Item:
    return Item(kind="latex", colour=colour, nominal_in=size, bag_count=BAG, bag_cents=1650)


def held_of(item: int) -> int:
    holds = Hold.objects.filter(item=item, state__in=OPEN_STATES)
    return holds.aggregate(sum=Sum("quantity"))["sum"] or 0


def test_sixteen_clients_never_promise_the_last_bags_twice_but_without_locks_they_do():
    pairs = iter(two_items_with_two_bags(ROUNDS_WITHOUT_LOCKS + ROUNDS))
    jobs = [JobFactory(title=f"Job {n}") for n in range(CLIENTS)]
    with racers("tests.inventory.holds.racer", *(str(job.pk) for job in jobs)) as clients:
        oversold = 0
        for items in islice(pairs, ROUNDS_WITHOUT_LOCKS):
            go(clients, "without-locks", items)
            oversold += any(held_of(item) > 2 * BAG for item in items)
        assert oversold > 0
        for items in pairs:
            answers = go(clients, "with-locks", items)
            refused = {answer for answer in answers if answer != "held"}
            assert answers["held"] == POSSIBLE, answers
            assert all(answer.startswith("Not enough is free: ") for answer in refused), refused
            assert [held_of(item) for item in items] == [2 * BAG, 2 * BAG]
