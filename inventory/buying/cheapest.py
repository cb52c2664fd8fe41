"""The cheapest bags for a whole list, over suppliers with delivery charges and smallest orders.

Exact: whom to order from is decided by branch and bound, and for each set of suppliers the bags by
dynamic programming (covering.py, smallest.py). Of two lists that cost the same the one with fewer
pieces left over is taken, then the one with fewer bags.

Limits: where more than NODES_MOST sets would have to be looked at, or smallest orders make too
many cases (smallest.py) for UNSURE_MOST of them, the best list found is given, with `is_exact`
false. That takes three or more suppliers whose smallest order is near to all that is bought.
"""

from collections.abc import Collection, Iterable, Mapping
from heapq import heappop, heappush

from inventory.buying.covering import Choice, cents_in, cover, score_of
from inventory.buying.purchase import BagOffer, Draft, Purchase, Terms, offers_by_item
from inventory.buying.smallest import together, with_smallest_orders

NODES_MOST = 2_000
UNSURE_MOST = 4
NO_TERMS = Terms()

Suppliers = frozenset[int | None]


def cheapest(
    needs: Mapping[int, int],
    offers: Iterable[BagOffer],
    terms: Mapping[int | None, Terms] | None = None,
) -> Purchase:
    """`needs` by item, each with at least one offer; `terms` by supplier, where it has any.

    Raises ValueError where an item has no offer.
    """
    needs = {item: need for item, need in needs.items() if need > 0}
    offers = [offer for offer in offers if offer.item in needs]
    without = needs.keys() - {offer.item for offer in offers}
    if without:
        raise ValueError(f"nobody sells {sorted(without)}")
    search = _Search(needs, offers, terms or {})
    found = search.run()
    bought = dict.fromkeys(needs, 0)
    for offer, times in found.bags.items():
        bought[offer.item] += offer.count * times
    return Purchase(
        bags=found.bags,
        cents=cents_in(found.score),
        left_over={item: bought[item] - need for item, need in needs.items()},
        raised=found.raised,
        is_exact=search.is_exact,
    )


class _Search:
    def __init__(
        self,
        needs: Mapping[int, int],
        offers: list[BagOffer],
        terms: Mapping[int | None, Terms],
    ) -> None:
        self.needs, self.offers, self.terms = needs, offers, terms
        self.of_item = offers_by_item(offers)
        self.is_exact = True
        self._found: Draft | None = None
        self._covers: dict[tuple[int, Suppliers], Draft] = {}
        self._unsure_from: list[int] = []
        self._looked_at: set[Suppliers] = set()
        self._waiting: list[tuple[int, int, Suppliers, Suppliers]] = []
        self._asked = 0

    def run(self) -> Draft:
        suppliers = frozenset(offer.supplier for offer in self.offers)
        asking = frozenset(s for s in suppliers if self._terms(s) != NO_TERMS)
        self._ask(suppliers - asking, asking)
        while self._waiting and not self._is_settled():
            _, _, chosen, undecided = heappop(self._waiting)
            self._branch(chosen, undecided)
        if self._found is None:
            raise ValueError("a smallest order can never be reached with bags that cost nothing")
        self.is_exact &= all(least >= self._found.score for least in self._unsure_from)
        return self._found

    def _is_settled(self) -> bool:
        """Nothing that waits can be better, or too much was looked at."""
        if self._found is None:
            return False
        if self._waiting[0][0] >= self._found.score:
            return True
        is_enough = self._asked > NODES_MOST or len(self._unsure_from) >= UNSURE_MOST
        self.is_exact &= not is_enough
        return is_enough

    def _ask(self, chosen: Suppliers, undecided: Suppliers) -> None:
        """To be looked at in the order of the least that it can score."""
        relaxed = self._relaxed(chosen | undecided)
        if relaxed is not None:
            self._asked += 1
            least = self._least(relaxed, chosen)
            heappush(self._waiting, (least, self._asked, chosen, undecided))

    def _branch(self, chosen: Suppliers, undecided: Suppliers) -> None:
        """`chosen` are ordered from; the undecided are counted as if they asked for nothing."""
        relaxed = self._relaxed(chosen | undecided)
        used = {offer.supplier for offer in relaxed.bags} & undecided
        if not used and self._settled(chosen):
            return
        if undecided:
            next_ = max(used or undecided, key=self._asks)
            self._ask(chosen | {next_}, undecided - {next_})
            self._ask(chosen, undecided - {next_})

    def _settled(self, chosen: Suppliers) -> bool:
        """Finds the best list with just these; true where no smallest order made it dearer."""
        if chosen in self._looked_at:
            return False
        self._looked_at.add(chosen)
        delivery = self._delivery(chosen)
        beat = None if self._found is None else self._found.score - delivery
        draft = with_smallest_orders(
            needs=self.needs,
            offers=[offer for offer in self.offers if offer.supplier in chosen],
            smallest={s: self._terms(s).smallest_cents for s in chosen},
            relaxed=together(self._covered(item, chosen) for item in self.needs),
            better_than=beat,
        )
        if draft is None:
            return False
        if draft.least is not None and draft.least < min(draft.score, beat or draft.score):
            self._unsure_from.append(draft.least + delivery)
        if beat is None or draft.score < beat:
            self._found = Draft(draft.bags, draft.score + delivery, draft.raised)
        return not draft.raised

    def _relaxed(self, allowed: Suppliers) -> Draft | None:
        """As if nobody asked for anything but the price of the bags."""
        sold = {item for item in self.needs if self._sellers(item) & allowed}
        if len(sold) < len(self.needs):
            return None
        return together(self._covered(item, allowed) for item in self.needs)

    def _covered(self, item: int, allowed: Suppliers) -> Draft:
        key = (item, self._sellers(item) & allowed)
        if key not in self._covers:
            offers = [offer for offer in self.of_item[item] if offer.supplier in allowed]
            found = cover(self.needs[item], [Choice(o.count, o.score) for o in offers])
            self.is_exact &= found.is_exact
            taken = zip(offers, found.times, strict=True)
            self._covers[key] = Draft({offer: n for offer, n in taken if n}, found.score)
        return self._covers[key]

    def _sellers(self, item: int) -> Suppliers:
        return frozenset(offer.supplier for offer in self.of_item[item])

    def _least(self, relaxed: Draft, chosen: Collection[int | None]) -> int:
        asked = sum(self._terms(s).smallest_cents for s in chosen)
        at_least = max(relaxed.score, score_of(cents=asked, pieces=0, bags=0))
        return at_least + self._delivery(chosen)

    def _delivery(self, chosen: Collection[int | None]) -> int:
        cents = sum(self._terms(s).delivery_cents for s in chosen)
        return score_of(cents=cents, pieces=0, bags=0)

    def _terms(self, supplier: int | None) -> Terms:
        return self.terms.get(supplier, NO_TERMS)

    def _asks(self, supplier: int | None) -> tuple[int, int]:
        terms = self._terms(supplier)
        return (terms.delivery_cents, terms.smallest_cents)
