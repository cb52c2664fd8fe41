"""Which bags to take from, when a garland is made.

Opened bags first, the oldest of them, then sealed ones, oldest first; but whole lots together, as
two lots of one colour can be two shades. A bag without a lot is of its delivery's.
"""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from inventory.models import Bag


@dataclass(frozen=True)
class Proposal:
    """How many to take from a bag."""

    bag: Bag
    quantity: int


def bags_proposed(bags: Iterable[Bag], quantity: int) -> list[Proposal]:
    """Fewer than asked for, where the bags do not hold as many.

    One lot that is enough by itself, the first in order; else lots one after another.
    """
    lots = _lots_in_order(bags)
    enough = next((lot for lot in lots if sum(bag.left for bag in lot) >= quantity), None)
    proposed, missing = [], quantity
    for bag in enough or [bag for lot in lots for bag in lot]:
        if missing == 0:
            break
        proposed.append(Proposal(bag, min(bag.left, missing)))
        missing -= proposed[-1].quantity
    return proposed


def _lots_in_order(bags: Iterable[Bag]) -> list[list[Bag]]:
    """Each lot in the order of its bags; the lots by their first bag."""
    lots: dict[tuple[str, int | None], list[Bag]] = defaultdict(list)
    for bag in sorted((bag for bag in bags if bag.left), key=_order):
        lots[bag.lot, None if bag.lot else bag.delivery_id].append(bag)
    return list(lots.values())


def _order(bag: Bag) -> tuple[object, ...]:
    return (not bag.is_open, bag.received_on, bag.pk)
