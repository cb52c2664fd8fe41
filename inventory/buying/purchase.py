"""What can be bought, on what terms, and what is bought: plain values."""

from collections import Counter, defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from inventory.buying.covering import score_of


@dataclass(frozen=True)
class BagOffer:
    """A bag that someone sells. `supplier` and `item` are numbers; no supplier is None."""

    item: int
    supplier: int | None
    count: int
    cents: int

    @cached_property
    def score(self) -> int:
        return score_of(cents=self.cents, pieces=self.count, bags=1)


@dataclass(frozen=True)
class Terms:
    """Bags for less than `smallest_cents` are not sold; each order costs `delivery_cents` more."""

    smallest_cents: int = 0
    delivery_cents: int = 0


@dataclass(frozen=True)
class Draft:
    """Bags with their score, which may hold delivery.

    `raised`: suppliers whose smallest order made it other than it would have been. `least`: what
    nothing else that was asked can score less than; none where that is the score itself.
    """

    bags: Mapping[BagOffer, int]
    score: int
    raised: frozenset[int | None] = frozenset()
    least: int | None = None


@dataclass(frozen=True, kw_only=True)
class Purchase:
    """`bags` of each offer; `cents` with delivery; `left_over` by item."""

    bags: Mapping[BagOffer, int]
    cents: int
    left_over: Mapping[int, int]
    raised: frozenset[int | None] = frozenset()
    is_exact: bool = True


def spent_at(bags: Mapping[BagOffer, int]) -> Counter[int | None]:
    """Cents for bags, by supplier."""
    spent: Counter[int | None] = Counter()
    for offer, times in bags.items():
        spent[offer.supplier] += offer.cents * times
    return spent


def offers_by_item(offers: list[BagOffer]) -> dict[int, list[BagOffer]]:
    found: dict[int, list[BagOffer]] = defaultdict(list)
    for offer in offers:
        found[offer.item].append(offer)
    return found
