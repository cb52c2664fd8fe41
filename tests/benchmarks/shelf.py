"""The shelf after one year of work and after five: what is free, what to buy, the pages.

Each is set against a bare SQL sum of the rows that it answers from, with nothing of Django round
it: of what is on the shelf the ledger's lines, which are the truth of it, then the holds, needs
and orders that are open. The database keeps sums of the lines as they are written; the second
ratio is against a sum of those.
"""

import os
from collections.abc import Callable, Iterator
from datetime import date, timedelta
from math import log

from .database import own_database
from .timing import milliseconds

_YEARS = 5
_RUNS = 15
_AHEAD_DAYS = 90
_GOAL = 3

_LINES = """
    SELECT bag.item_id, SUM(line.quantity) FROM inventory_ledgerline line
      JOIN inventory_bag bag ON bag.id = line.bag_id GROUP BY bag.item_id"""
_BAGS = 'SELECT item_id, SUM("left") FROM inventory_bag WHERE "left" > 0 GROUP BY item_id'
_HELD = """
    SELECT item_id, needed_on, SUM(quantity - taken) FROM inventory_hold
     WHERE state IN ('soft', 'firm') GROUP BY item_id, needed_on"""
_NEEDED = "SELECT item_id, needed_on, SUM(quantity) FROM inventory_need GROUP BY item_id, needed_on"
_ARRIVING = """
    SELECT line.item_id, "order".expected_on, SUM((line.bags - line.received_bags) * line.bag_count)
      FROM inventory_orderline line JOIN inventory_order "order" ON "order".id = line.order_id
     WHERE "order".state = 'ordered' GROUP BY line.item_id, "order".expected_on"""

# By what is measured: the sums that its rows come to, but for those of what is on the shelf.
_ALSO = {
    "free by date": (_HELD, _ARRIVING),
    "buy list over 90 days": (_HELD, _NEEDED, _ARRIVING),
    "buy list, the page": (_HELD, _NEEDED, _ARRIVING),
    "shelf, the page": (),
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
            of_lines = _bare((_LINES, *_ALSO[name]))
            of_bags = _bare((_BAGS, *_ALSO[name]))
            growth = log(taken / after_one[name]) / log(_YEARS)
            yield (
                f"{name}: {taken:.1f} ms, {taken / of_lines:.2f} of a bare SQL sum of the ledger "
                f"({of_lines:.1f} ms; goal under {_GOAL}), {taken / of_bags:.1f} of one of what "
                f"is left in bags ({of_bags:.1f} ms); grows as years to the {growth:.2f}"
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
