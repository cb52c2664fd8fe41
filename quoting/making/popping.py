"""A balloon did not last: one press at the bench, two or three lines in the ledger."""

from collections.abc import Iterator
from datetime import datetime

from decor.models import Job
from inventory.holds.taking import balloons_lose, balloons_lose_taken, balloons_take
from inventory.ledger.service import By
from inventory.models import Bag, Item
from quoting.making.bags import BY_THE_SHEET, bag_words, bags_for, items_of, out_by_bag
from quoting.making.keys import ItemKey, step_key
from quoting.making.told import Burst
from quoting.models import Popped

NO_BAG_SAYS = "One {item} is written down as lost, though no bag of it has any left."


def burst_take(*, job: Job, burst: Burst, by: By, now: datetime) -> list[str]:
    """Once for each key. Inside a transaction in which the job and its items are locked.

    Where balloons of that bag are out for the job, one of them is lost and another is taken in
    its place; else it is lost straight out of the bag, before it was counted.
    """
    if Popped.objects.filter(key=burst.key).exists():
        return []
    key = step_key(burst.step)
    items = items_of([key.item]) if key and key.item else {}
    bag = instead = None
    for item in items.values():
        bag, instead = _lost(job, item, key.item, burst, by=by, now=now)
    Popped.objects.create(
        key=burst.key,
        job=job,
        step=burst.step,
        reason=burst.reason,
        bag=bag,
        replaced_from=instead,
        made_at=burst.at,
        received_at=now,
        by=by,
    )
    return [NO_BAG_SAYS.format(item=item) for item in items.values() if bag is None]


def _lost(
    job: Job, item: Item, key: ItemKey, burst: Burst, *, by: By, now: datetime
) -> tuple[Bag | None, Bag | None]:
    """The bag it was of, and the one that its replacement is from."""
    said = {"job": job, "by": by, "now": now, "why": BY_THE_SHEET, "quantity": 1}
    out = out_by_bag([job], [item])
    for bag in _bags_meant(item, burst.bag, out):
        if out.get(bag.pk, 0) > 0:
            balloons_lose_taken(bag=bag, reason=burst.reason, **said)
            instead = _next_bag(job, key, planned=sum(out.values()))
            if instead is not None:
                balloons_take(bag=instead, **said)
            return bag, instead
        if bag.left:
            balloons_lose(bag=bag, reason=burst.reason, **said)
            return bag, None
    return None, None


def _bags_meant(item: Item, named: int | None, out: dict[int, int]) -> Iterator[Bag]:
    """The one that was named, if it is of this item; else the one taken from last; else any."""
    bags = {bag.pk: bag for bag in Bag.objects.filter(item=item)}
    order = [named, *reversed(out), *(pk for pk, bag in bags.items() if bag.left)]
    yield from (bags[pk] for pk in order if pk in bags)


def _next_bag(job: Job, key: ItemKey, *, planned: int) -> Bag | None:
    proposed = bags_for([job], {key: planned})[key].next
    return proposed[0].bag if proposed else None


def popped_words(popped: Popped) -> str:
    bag = f" from {bag_words(popped.bag)}" if popped.bag else ""
    if popped.replaced_from is None:
        return f"{popped.get_reason_display()}{bag}"
    return f"{popped.get_reason_display()}{bag}, replaced from {bag_words(popped.replaced_from)}"
