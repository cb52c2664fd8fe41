"""What is free of every item on a day. Four queries, whatever is on the shelf."""

from collections import defaultdict
from collections.abc import Collection
from datetime import date

from django.db.models import F, Sum

from decor.models import Job
from inventory.free.balance import Balance, Change, Free
from inventory.models import Bag, Hold, Item, OrderLine
from inventory.models.hold import OPEN_STATES
from inventory.models.order import OrderState

__all__ = ["Free", "balances", "free_on"]

OUTSTANDING = F("quantity") - F("taken")
STILL_TO_COME = (F("bags") - F("received_bags")) * F("bag_count")


def free_on(
    *,
    on: date,
    today: date,
    items: Collection[int] | None = None,
    but_for: Job | None = None,
) -> dict[int, Free]:
    """By item: all of them, or those of `items`. Holds of the job `but_for` are not counted."""
    found = balances(today=today, items=items, but_for=but_for)
    return {item: balance.free_on(on) for item, balance in found.items()}


def balances(
    *, today: date, items: Collection[int] | None = None, but_for: Job | None = None
) -> dict[int, Balance]:
    """A delivery that should have come before today may come today; a hold that is overdue
    still stands."""
    wanted = list(Item.objects.values_list("pk", flat=True)) if items is None else list(items)
    changes = _changes(today, None if items is None else wanted, but_for)
    shelf = _on_the_shelf(None if items is None else wanted)
    return {
        item: Balance(shelf=shelf.get(item, 0), changes=changes.get(item, ())) for item in wanted
    }


def _on_the_shelf(items: list[int] | None) -> dict[int, int]:
    bags = Bag.objects.filter(left__gt=0)
    bags = bags if items is None else bags.filter(item__in=items)
    return dict(bags.order_by().values_list("item").annotate(Sum("left")))


def _changes(today: date, items: list[int] | None, but_for: Job | None) -> dict[int, list[Change]]:
    holds = Hold.objects.filter(state__in=OPEN_STATES).exclude(job=but_for)
    lines = OrderLine.objects.filter(order__state=OrderState.ORDERED)
    if items is not None:
        holds, lines = holds.filter(item__in=items), lines.filter(item__in=items)
    found: dict[int, list[Change]] = defaultdict(list)
    for item, on, quantity in (
        holds.order_by().values_list("item", "needed_on").annotate(sum=Sum(OUTSTANDING))
    ):
        found[item].append(Change(on=on, quantity=-quantity))
    for item, on, quantity in (
        lines.order_by().values_list("item", "order__expected_on").annotate(sum=Sum(STILL_TO_COME))
    ):
        found[item].append(Change(on=max(on, today), quantity=quantity, is_arrival=True))
    return found
