"""The shelf after one year of work and after five: what is free, what to buy, the pages.

Each is set against a bare SQL sum of the same rows, with nothing of Django round it, and the goal
is to take less than three times as long. The same rows: the ledger's lines, as what is on the
shelf is their sum, and the holds, needs and orders that are open where it asks for these too.

The database also keeps what is left in each bag as its lines are written, and the app reads that
instead. The second ratio is against a sum of it, which the app cannot come near: most of a page is
what becomes of so few rows.
"""

import os
from collections.abc import Callable, Iterator
from datetime import date, timedelta
from math import log
from typing import NamedTuple

from .database import own_database
from .timing import milliseconds

_YEARS = 5
_RUNS = 15
_AHEAD_DAYS = 90
_GOAL = 3

_LINES = """
    SELECT bag.item_id, SUM(line.quantity) FROM inventory_ledgerline line
      JOIN inventory_bag bag ON bag.id = line.bag_id GROUP BY bag.item_id"""
_LINES_BY_LOT = """
    SELECT bag.item_id, bag.lot, line.kind, SUM(line.quantity) FROM inventory_ledgerline line
      JOIN inventory_bag bag ON bag.id = line.bag_id GROUP BY bag.item_id, bag.lot, line.kind"""
_BAGS = 'SELECT item_id, SUM("left") FROM inventory_bag WHERE "left" > 0 GROUP BY item_id'
_BAGS_BY_LOT = """
    SELECT item_id, lot, SUM(printed_count - "left") FROM inventory_bag GROUP BY item_id, lot"""
_LOST_BY_LOT = """
    SELECT bag.item_id, bag.lot, line.kind, SUM(line.quantity) FROM inventory_ledgerline line
      JOIN inventory_bag bag ON bag.id = line.bag_id
     WHERE line.kind IN ('counted', 'thrown_away', 'lost')
     GROUP BY bag.item_id, bag.lot, line.kind"""
_HELD = """
    SELECT item_id, needed_on, SUM(quantity - taken) FROM inventory_hold
     WHERE state IN ('soft', 'firm') GROUP BY item_id, needed_on"""
_NEEDED = "SELECT item_id, needed_on, SUM(quantity) FROM inventory_need GROUP BY item_id, needed_on"
_ARRIVING = """
    SELECT line.item_id, "order".expected_on, SUM((line.bags - line.received_bags) * line.bag_count)
      FROM inventory_orderline line JOIN inventory_order "order" ON "order".id = line.order_id
     WHERE "order".state = 'ordered' GROUP BY line.item_id, "order".expected_on"""


class Sums(NamedTuple):
    """What is read, in words, with the sum of these rows and that of what the app reads instead."""

    rows: str
    same: tuple[str, ...]
    kept: tuple[str, ...]


_ON_THE_SHELF = Sums("every ledger line, by item", (_LINES,), (_BAGS,))
_FREE = Sums(
    f"{_ON_THE_SHELF.rows}; open holds and what is on order, by item and day",
    (_LINES, _HELD, _ARRIVING),
    (_BAGS, _HELD, _ARRIVING),
)
_SHORT = Sums(
    f"{_ON_THE_SHELF.rows}; open holds, needs and what is on order, by item and day",
    (_LINES, _HELD, _NEEDED, _ARRIVING),
    (_BAGS, _HELD, _NEEDED, _ARRIVING),
)
_LOST = Sums(
    "every ledger line, by item, lot and kind", (_LINES_BY_LOT,), (_BAGS_BY_LOT, _LOST_BY_LOT)
)
_SUMS = {
    "free by date": _FREE,
    "buy list over 90 days": _SHORT,
    "buy list, the page": _SHORT,
    "shelf, the page": _ON_THE_SHELF,
    "losses, the page": _LOST,
}


def figures() -> Iterator[str]:
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "tests.settings")
    import django

    django.setup()
    with own_database():
        from django.utils import timezone

        from tests.years_of_work import add_year, begin

        today = timezone.localdate()
        business = begin(today)
        add_year(business, years_ago=0)
        after_one = _measured(today)
        for years_ago in range(1, _YEARS):
            add_year(business, years_ago=years_ago)
        yield _what_there_is(today)
        after_five = _measured(today)
        for name, taken in after_five.items():
            sums = _SUMS[name]
            same, kept = _bare(sums.same), _bare(sums.kept)
            growth = log(taken / after_one[name]) / log(_YEARS)
            yield (
                f"{name}: {taken:.1f} ms, {taken / same:.2f} of a bare SQL sum of the same rows "
                f"({sums.rows}: {same:.1f} ms); goal under {_GOAL}: "
                f"{'met' if taken < _GOAL * same else 'MISSED'}"
            )
            yield (
                f"    {taken / kept:.1f} of a sum of what the database keeps of these lines "
                f"({kept:.1f} ms); grows as years to the {growth:.2f}"
            )


def _measured(today: date) -> dict[str, float]:
    return {name: milliseconds(work, runs=_RUNS)[1] for name, work in _works(today).items()}


def _works(today: date) -> dict[str, Callable[[], object]]:
    from inventory.buying.service import buy_list
    from inventory.free.service import free_on

    until_on = today + timedelta(days=_AHEAD_DAYS)
    return {
        "free by date": lambda: free_on(on=until_on, today=today),
        "buy list over 90 days": lambda: buy_list(until_on=until_on, today=today),
        "buy list, the page": _page("buy_list"),
        "shelf, the page": _page("shelf"),
        "losses, the page": _page("loss_list"),
    }


def _page(name: str) -> Callable[[], None]:
    from django.contrib.auth import get_user_model
    from django.test import Client as Browser
    from django.urls import reverse

    browser = Browser(headers={"Host": "localhost"})
    browser.force_login(get_user_model().objects.get())
    address = reverse(name)

    def look() -> None:
        answer = browser.get(address)
        assert answer.status_code == 200, answer.status_code

    return look


def _bare(sums: tuple[str, ...]) -> float:
    from django.db import connection

    def ask() -> None:
        with connection.cursor() as cursor:
            for sql in sums:
                cursor.execute(sql).fetchall()

    return milliseconds(ask, runs=_RUNS)[1]


def _what_there_is(today: date) -> str:
    from decor.models import Job
    from inventory.buying.service import buy_list
    from inventory.models import Bag, LedgerLine
    from quoting.models import Quote

    counted = [(Job, "jobs"), (Quote, "quotes"), (Bag, "bags"), (LedgerLine, "ledger lines")]
    there = ", ".join(f"{model.objects.count():,} {name}" for model, name in counted)
    bought = buy_list(until_on=today + timedelta(days=_AHEAD_DAYS), today=today)
    short = sum(len(order.lines) for order in bought.orders)
    return f"{there}; {short} items to buy from {len(bought.orders)} suppliers"
