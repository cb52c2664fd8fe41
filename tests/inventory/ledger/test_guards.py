"""The database watches the ledger itself, whoever writes to it and by whatever road."""

import pytest
from django.apps import apps
from django.db import IntegrityError, connection, transaction
from django.utils import timezone

from inventory.ledger.guards import GUARDS
from inventory.models import Bag, LedgerLine
from tests.factories import BagFactory

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def every_guard(db: None) -> None:
    GUARDS.install(connection)


@pytest.fixture
def bag() -> Bag:
    return BagFactory(printed_count=50)


def by_hand(sql: str) -> None:
    with transaction.atomic(), connection.cursor() as cursor:
        cursor.execute(sql)


@pytest.mark.parametrize(
    "sql",
    [
        "UPDATE inventory_ledgerline SET quantity = 40",
        "UPDATE inventory_ledgerline SET why = 'no reason'",
        "DELETE FROM inventory_ledgerline",
        'UPDATE inventory_bag SET "left" = 49',
        'UPDATE inventory_bag SET "left" = "left" - 1',
    ],
)
def test_sql_by_hand_cannot_bend_the_ledger(bag: Bag, sql: str) -> None:
    with pytest.raises(IntegrityError):
        by_hand(sql)

    bag.refresh_from_db()
    assert (bag.left, bag.lines.get().quantity) == (50, 50)


def test_a_bag_begins_with_nothing_in_it(bag: Bag) -> None:
    with pytest.raises(IntegrityError), transaction.atomic():
        Bag.objects.create(
            item=bag.item, received_on=bag.received_on, cost_cents=1, printed_count=50, left=50
        )


def test_what_is_left_follows_each_line(bag: Bag) -> None:
    at = timezone.now()
    LedgerLine.objects.create(bag=bag, kind="opened", quantity=0, at=at)
    LedgerLine.objects.create(bag=bag, kind="taken", quantity=-8, at=at, why="a sample")
    LedgerLine.objects.bulk_create(
        [
            LedgerLine(bag=bag, kind="lost", reason="popped", quantity=-1, at=at),
            LedgerLine(bag=bag, kind="counted", quantity=2, at=at, why="two fell behind"),
        ]
    )

    bag.refresh_from_db()
    assert (bag.left, bag.is_open) == (43, True)


def test_no_line_can_empty_a_bag_below_nothing_or_fill_it_above_its_print(bag: Bag) -> None:
    for quantity in (-51, 1):
        with pytest.raises(IntegrityError), transaction.atomic():
            LedgerLine.objects.create(
                bag=bag, kind="counted", quantity=quantity, at=timezone.now(), why="miscounted"
            )
    assert bag.lines.count() == 1


def test_the_guards_are_lifted_for_a_migration_and_back_after_it() -> None:
    assert GUARDS.missing(connection) == []
    config = apps.get_app_config("inventory")
    GUARDS.before_migrate(using="default", sender=config)
    assert bool(GUARDS.missing(connection)) == (connection.vendor == "sqlite")
    GUARDS.after_migrate(using="default", sender=config)
    assert GUARDS.missing(connection) == []
