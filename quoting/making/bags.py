"""Which bags a job's balloons come from, and the shelf's own lines following what was counted.

The rule: of each item as many are out of the bags for the job as are counted as inflated, or
more, where some were taken by hand before. What the sheet itself took goes back when counts are
undone. As it depends on sums alone, the order in which counts arrive does not matter.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from django.db.models import Max, Q, Sum

from decor.models import Job
from inventory.holds.proposing import Proposal, bags_proposed
from inventory.holds.taking import balloons_return, balloons_take
from inventory.ledger.service import By
from inventory.models import Bag, Item, LedgerLine
from inventory.models.ledger import LineKind
from quoting.making.keys import ItemKey

# Said in the ledger, and how the sheet knows its own lines from those written by hand.
BY_THE_SHEET = "Counted on the making sheet"
SHELF_LACKS = (
    "The shelf has no more {item}: {count} inflated that no bag says. Your count is kept. "
    "Count the bags when you have time."
)
NEXT_BAG = "{item}: the bag ran out, the rest is from {bag}."


@dataclass(frozen=True, kw_only=True)
class ItemBags:
    """`used`: from which bags how many are out; `next`: from where the rest is to come."""

    item: Item
    used: tuple[Proposal, ...]
    next: tuple[Proposal, ...]
    missing: int

    @property
    def lots(self) -> int:
        """Two lots of one colour can be two shades."""
        every = (*self.used, *self.next)
        return len({(p.bag.lot, p.bag.lot or p.bag.delivery_id) for p in every})

    @property
    def bags(self) -> list[Bag]:
        """The one that a balloon in hand is most likely of comes first: the last taken from."""
        every = (*reversed(self.used), *self.next)
        return list({each.bag.pk: each.bag for each in every}.values())

    @property
    def first(self) -> Bag | None:
        return self.next[0].bag if self.next else None


def items_of(keys: Iterable[ItemKey]) -> dict[ItemKey, Item]:
    wanted = set(keys)
    colours = {colour for _, colour, _ in wanted}
    items = Item.objects.select_related("colour").filter(colour__key__in=colours)
    by_key = {(item.kind, item.colour.key, item.nominal_in): item for item in items}
    return {key: by_key[key] for key in wanted if key in by_key}


def out_by_bag(
    jobs: Sequence[Job], items: Iterable[Item], *, sheet_only: bool = False
) -> dict[int, int]:
    """How many of each bag are out for the jobs, the bag taken from last at the end."""
    lines = LedgerLine.objects.filter(
        job__in=jobs, bag__item__in=items, kind__in=[LineKind.TAKEN, LineKind.RETURNED]
    )
    if sheet_only:
        lines = lines.filter(why=BY_THE_SHEET)
    last = Max("pk", filter=Q(kind=LineKind.TAKEN))
    sums = lines.order_by().values_list("bag").annotate(sum=Sum("quantity"), last=last)
    ordered = sorted(sums, key=lambda each: each[2] or 0)
    return {bag: -quantity for bag, quantity, _ in ordered if quantity}


def bags_for(jobs: Sequence[Job], wanted: Mapping[ItemKey, int]) -> dict[ItemKey, ItemBags]:
    """For the whole of what the jobs want of each item, what is out already among it."""
    items = items_of(wanted)
    out = out_by_bag(jobs, items.values())
    bags: dict[int, list[Bag]] = defaultdict(list)
    for bag in Bag.objects.filter(Q(left__gt=0) | Q(pk__in=out), item__in=items.values()):
        bags[bag.item_id].append(bag)
    return {
        key: _item_bags(item, bags[item.pk], out, wanted=wanted[key]) for key, item in items.items()
    }


def _item_bags(item: Item, bags: Sequence[Bag], out: Mapping[int, int], *, wanted: int) -> ItemBags:
    by_pk = {bag.pk: bag for bag in bags}
    used = [Proposal(by_pk[pk], count) for pk, count in out.items() if pk in by_pk and count > 0]
    still = max(0, wanted - sum(each.quantity for each in used))
    proposed = _next_bags(bags, out, still)
    there = sum(each.quantity for each in proposed)
    return ItemBags(item=item, used=tuple(used), next=tuple(proposed), missing=still - there)


def _next_bags(bags: Sequence[Bag], out: Mapping[int, int], quantity: int) -> list[Proposal]:
    """The lot that was begun goes on, as long as there is of it; then as one would begin."""
    begun = {_lot(bag) for bag in bags if out.get(bag.pk, 0) > 0}
    same = [bag for bag in bags if _lot(bag) in begun]
    first = bags_proposed(same, quantity) if same else []
    rest = quantity - sum(each.quantity for each in first)
    return first + bags_proposed([bag for bag in bags if _lot(bag) not in begun], rest)


def _lot(bag: Bag) -> tuple[str, int | None]:
    return bag.lot, None if bag.lot else bag.delivery_id


def shelf_follow(
    *,
    job: Job,
    inflated: Mapping[ItemKey, int],
    planned: Mapping[ItemKey, int],
    shown: Mapping[ItemKey, int],
    by: By,
    now: datetime,
) -> list[str]:
    """Takes or puts back what the counts ask for; says what did not go as the sheet showed it.

    Inside a transaction in which the job and its items are locked. `planned` is all that the job
    is to use of an item: the lot is chosen for the whole of it, not for the few that are taken
    now. `shown` is the bag that the sheet named when it was counted.
    """
    items = items_of(inflated)
    said: list[str] = []
    for key, item in sorted(items.items(), key=lambda each: each[1].pk):
        out = out_by_bag([job], [item])
        too_few = inflated[key] - sum(out.values())
        if too_few > 0:
            taking = _Taking(job=job, item=item, out=out, by=by, now=now)
            said += taking.take(too_few, planned=planned.get(key, 0), shown=shown.get(key))
        elif too_few < 0:
            _put_back(job, item, -too_few, by=by, now=now)
    return said


@dataclass(frozen=True, kw_only=True)
class _Taking:
    job: Job
    item: Item
    out: Mapping[int, int]
    by: By
    now: datetime

    def take(self, quantity: int, *, planned: int, shown: int | None) -> list[str]:
        bags = list(Bag.objects.filter(Q(left__gt=0) | Q(pk__in=self.out), item=self.item))
        last = self._last(shown)
        still = max(quantity, planned - sum(self.out.values()))
        missing, said = quantity, []
        for each in _next_bags(bags, self.out, still):
            count = min(missing, each.quantity)
            if count == 0:
                break
            if last is not None and last.left == 0 and last.pk != each.bag.pk:
                said.append(NEXT_BAG.format(item=self.item, bag=bag_words(each.bag)))
            self._out_of(each.bag, count)
            missing -= count
            last = each.bag
        if missing:
            said.append(SHELF_LACKS.format(item=self.item, count=missing))
        return said

    def _last(self, shown: int | None) -> Bag | None:
        """The one taken from last; before the first, the one that the sheet named."""
        pk = list(self.out)[-1] if self.out else shown
        return Bag.objects.filter(pk=pk, item=self.item).first() if pk else None

    def _out_of(self, bag: Bag, quantity: int) -> None:
        balloons_take(
            bag=bag, quantity=quantity, job=self.job, by=self.by, now=self.now, why=BY_THE_SHEET
        )


def _put_back(job: Job, item: Item, quantity: int, *, by: By, now: datetime) -> None:
    """Only what the sheet took, the last first."""
    every, by_sheet = out_by_bag([job], [item]), out_by_bag([job], [item], sheet_only=True)
    quantity = min(quantity, sum(by_sheet.values()))
    for pk, out in reversed(by_sheet.items()):
        count = min(quantity, out, every.get(pk, 0))
        if count > 0:
            bag = Bag.objects.get(pk=pk)
            balloons_return(bag=bag, quantity=count, job=job, by=by, now=now, why=BY_THE_SHEET)
            quantity -= count


def bag_words(bag: Bag) -> str:
    lot = f"lot {bag.lot}" if bag.lot else f"bag {bag.tag}"
    return f"{lot}, {bag.place}" if bag.place else lot
