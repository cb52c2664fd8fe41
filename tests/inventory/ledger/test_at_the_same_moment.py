"""Lines written at the same moment all count, even by someone who takes no locks of his own."""

from concurrent.futures import ThreadPoolExecutor

import pytest
from django.db import connection
from django.utils import timezone

from inventory.ledger.reading import bag_problems
from inventory.models import Bag, LedgerLine
from tests.factories import BagFactory

WRITERS = 4
LINES_EACH = 15


def write_lines(bag_id: int) -> None:
    try:
        for _ in range(LINES_EACH):
            LedgerLine.objects.create(
                bag_id=bag_id, kind="counted", quantity=-1, why="one fewer", at=timezone.now()
            )
    finally:
        connection.close()


@pytest.mark.django_db(transaction=True)
def test_the_bag_follows_every_line() -> None:
    bag = BagFactory(printed_count=WRITERS * LINES_EACH)

    with ThreadPoolExecutor(WRITERS) as writers:
        list(writers.map(write_lines, [bag.pk] * WRITERS))

    assert Bag.objects.get().left == 0
    assert LedgerLine.objects.count() == 1 + WRITERS * LINES_EACH
    assert bag_problems() == []
