"""First in, first out: what was used is charged at the price of the oldest that were there."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from inventory.models import Bag, Item
from quoting.estimator.money import round_cents


@dataclass(frozen=True)
class Layer:
    """So many, bought together for so much."""

    quantity: int
    cents: int


@dataclass(frozen=True)
class FifoCost:
    used_cents: int
    closing_cents: int


def fifo_cost(layers: Sequence[Layer], *, used: int) -> FifoCost:
    """`layers` from the oldest on. A layer used in part is split at its own price, to the cent,
    and nothing is lost: used and closing add up to what was paid."""
    if not 0 <= used <= sum(layer.quantity for layer in layers):
        raise ValueError(f"{used} cannot have been used of what was bought")
    used_cents = 0
    for layer in layers:
        taken = min(used, layer.quantity)
        used_cents += _part_cents(layer, taken)
        used -= taken
    return FifoCost(used_cents, sum(layer.cents for layer in layers) - used_cents)


def fifo_of(item: Item) -> FifoCost:
    """Of all its bags ever received, by the day they came."""
    bags = list(item.bags.order_by("received_on", "pk"))
    return fifo_cost(_layers(bags), used=sum(bag.printed_count - bag.left for bag in bags))


def _layers(bags: Iterable[Bag]) -> list[Layer]:
    return [Layer(bag.printed_count, bag.cost_cents) for bag in bags]


def _part_cents(layer: Layer, taken: int) -> int:
    if taken == 0:
        return 0
    return round_cents(Decimal(layer.cents) * taken / layer.quantity)
