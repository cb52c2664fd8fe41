"""What is short of each item up to a day, over all jobs: plain arithmetic, then the look-up."""

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from django.db.models import QuerySet

from decor.models import Job
from inventory.free.balance import Balance, Change
from inventory.free.service import OUTSTANDING, balances
from inventory.holds.needs import needs_open
from inventory.models import Hold, Item, Need, Order
from inventory.models.hold import OPEN_STATES, HoldState

NOT_PROMISED = "not promised yet"


@dataclass(frozen=True)
class Dip:
    """The item is short from `needed_on`, by `quantity` where it is worst, on `worst_on`.

    `late_on` is the first later day on which something ordered arrives, too late for this.
    """

    quantity: int
    needed_on: date
    worst_on: date
    late_on: date | None = None


@dataclass(frozen=True)
class Asking:
    """One job's part in it."""

    job: Job
    quantity: int
    needed_on: date
    state: str


@dataclass(frozen=True)
class Shortfall:
    item: Item
    dip: Dip
    asking: tuple[Asking, ...]

    @property
    def quantity(self) -> int:
        return self.dip.quantity

    @property
    def needed_on(self) -> date:
        return self.dip.needed_on


def dip_of(balance: Balance, *, until_on: date) -> Dip | None:
    """Bought by the first day that is short, so much covers every day up to `until_on`."""
    short = [(on, -left) for on, left in balance.after() if left < 0 and on <= until_on]
    if not short:
        return None
    worst_on, quantity = max(short, key=lambda step: step[1])
    needed_on = short[0][0]
    late = (change.on for change in balance.changes if change.is_arrival and change.on >= needed_on)
    return Dip(quantity, needed_on, worst_on, min(late, default=None))


def shortfalls(*, until_on: date, today: date, but_for: Order | None = None) -> list[Shortfall]:
    """By the day they are needed. `but_for`: as if nothing more came of that order."""
    needs = list(needs_open().select_related("job").order_by("needed_on", "pk"))
    known = _with_needs(balances(today=today), needs)
    if but_for is not None:
        known = _without(known, but_for, today)
    dips = {pk: dip for pk, each in known.items() if (dip := dip_of(each, until_on=until_on))}
    if not dips:
        return []
    items = Item.objects.select_related("colour").in_bulk(dips)
    asking = _asking(dips.keys(), needs)
    found = [
        Shortfall(items[pk], dip, tuple(a for a in asking[pk] if a.needed_on <= dip.worst_on))
        for pk, dip in dips.items()
    ]
    return sorted(found, key=lambda short: (short.needed_on, str(short.item)))


def _with_needs(known: Mapping[int, Balance], needs: Iterable[Need]) -> dict[int, Balance]:
    """What is not promised yet, but will be when it is bought, counts like a hold."""
    more: dict[int, list[Change]] = defaultdict(list)
    for need in needs:
        more[need.item_id].append(Change(on=need.needed_on, quantity=-need.quantity))
    return {
        pk: replace(each, changes=[*each.changes, *more[pk]]) if pk in more else each
        for pk, each in known.items()
    }


def _without(known: Mapping[int, Balance], order: Order, today: date) -> dict[int, Balance]:
    gone: dict[int, int] = defaultdict(int)
    for line in order.lines.all():
        gone[line.item_id] += (line.bags - line.received_bags) * line.bag_count
    on = max(order.expected_on, today)
    return {
        pk: replace(
            each, changes=[*each.changes, Change(on=on, quantity=-gone[pk], is_arrival=True)]
        )
        if gone[pk]
        else each
        for pk, each in known.items()
    }


def _asking(items: Collection[int], needs: Sequence[Need]) -> dict[int, list[Asking]]:
    found: dict[int, list[Asking]] = defaultdict(list)
    for hold in _holds(items):
        state = HoldState(hold.state).label.lower()
        found[hold.item_id].append(Asking(hold.job, hold.outstanding, hold.needed_on, state))
    for need in needs:
        found[need.item_id].append(Asking(need.job, need.quantity, need.needed_on, NOT_PROMISED))
    return {pk: sorted(of, key=lambda asking: asking.needed_on) for pk, of in found.items()}


def _holds(items: Collection[int]) -> QuerySet[Hold]:
    """Of those jobs only that still want some."""
    holds = Hold.objects.filter(item__in=items, state__in=OPEN_STATES)
    return holds.annotate(outstanding=OUTSTANDING).filter(outstanding__gt=0).select_related("job")
