"""`manage.py check_shelf` says whether every bag holds what its lines add up to."""

from io import StringIO

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError
from django.db import connection
from django.utils import timezone

from inventory.ledger.guards import GUARDS
from inventory.ledger.reading import lines_of_bag, lines_of_item, shelf_problems
from inventory.ledger.service import bag_open, bag_take
from inventory.models import Bag
from tests.factories import BagFactory

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def every_guard(db: None) -> None:
    GUARDS.install(connection)


@pytest.fixture
def bag() -> Bag:
    bag = BagFactory(printed_count=50)
    bag_take(bag=bag, quantity=8, job=None, why="a sample", by=None, now=timezone.now())
    return bag


def bend(sql: str) -> None:
    """As a hand in the database could, past the guards."""
    with connection.cursor() as cursor:
        if connection.vendor == "sqlite":
            GUARDS.lift(connection)
            cursor.execute(sql)
        else:
            cursor.execute("SET LOCAL session_replication_role = replica")
            cursor.execute(sql)
            cursor.execute("SET LOCAL session_replication_role = origin")
    GUARDS.install(connection)


def test_a_sound_shelf_is_said_to_be_sound(bag: Bag) -> None:
    said = StringIO()

    call_command("check_shelf", stdout=said)

    assert said.getvalue() == "The shelf is sound: 1 bags, 3 ledger lines.\n"


@pytest.mark.parametrize(
    ("sql", "told"),
    [
        ('UPDATE inventory_bag SET "left" = 41', "the ledger says 42 are left, the bag says 41"),
        ("DELETE FROM inventory_ledgerline WHERE kind = 'taken'", "the ledger says 50 are left"),
        ("UPDATE inventory_ledgerline SET quantity = -9 WHERE kind = 'taken'", "says 41 are left"),
        ("DELETE FROM inventory_ledgerline WHERE kind = 'opened'", "opened in the ledger and on"),
        ("DELETE FROM inventory_ledgerline WHERE kind = 'received'", "received with 50 in it"),
    ],
)
def test_what_was_bent_by_hand_is_found(bag: Bag, sql: str, told: str) -> None:
    bend(sql)
    said = StringIO()

    with pytest.raises(CommandError) as refused:
        call_command("check_shelf", stdout=said)

    assert refused.value.returncode == 1
    assert told in said.getvalue()
    assert f"Bag {bag.pk} ({bag.tag})" in said.getvalue()


def test_a_missing_guard_is_found(bag: Bag) -> None:
    with connection.cursor() as cursor:
        on = "" if connection.vendor == "sqlite" else " ON inventory_bag"
        cursor.execute(f"DROP TRIGGER bag_left_is_sum{on}")

    assert "bag_left_is_sum is missing" in " ".join(shelf_problems())


def test_it_asks_as_much_of_many_bags_as_of_one(bag: Bag, django_assert_max_num_queries) -> None:
    for _ in range(5):
        BagFactory(item=bag.item)
    with django_assert_max_num_queries(2):
        assert shelf_problems() == []


def test_a_ledger_is_read_with_what_was_left_after_each_line(bag: Bag) -> None:
    other = BagFactory(item=bag.item, printed_count=30)
    bag_open(bag=other, by=None, now=timezone.now())

    of_bag = [(line.kind, line.left_after) for line in lines_of_bag(bag)]
    of_item = [(line.kind, line.left_after) for line in lines_of_item(bag.item)]

    assert of_bag == [("taken", 42), ("opened", 50), ("received", 50)]
    assert of_item == [("opened", 72), ("received", 72), *of_bag]
