"""Smallest orders: the best bags when each of some suppliers must be given at least so much.

First the bags are bought as if nobody had a smallest order. Whoever is then given too little is
watched: what it has been given so far, counted up to its smallest order, becomes part of the state
of the dynamic program; and again, until all are given enough. Every step but the last leaves rules
out, so none of them scores worse than the best list, and the last one breaks none.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from inventory.buying.covering import Choice, CoverTable, score_of
from inventory.buying.purchase import BagOffer, Draft, offers_by_item, spent_at

# How many ways are kept side by side: first the few most promising, to know early what must be
# beaten, then more. Of those that are cut it is remembered what they could have come to at least.
WAYS_KEPT = (30, 150)
# Part of the price that a bag of a watched supplier is forgiven, in quarters: see _Watching.
QUARTERS = range(5)


@dataclass(frozen=True)
class _Way:
    """To have covered so much: what each watched supplier was given, and what led to it."""

    given: tuple[int, ...]
    score: int
    bags: tuple[BagOffer, ...] = ()
    before: tuple["_Way", ...] = ()

    def all_bags(self) -> Iterable[BagOffer]:
        ways = [self]
        while ways:
            way = ways.pop()
            yield from way.bags
            ways.extend(way.before)


def with_smallest_orders(
    *,
    needs: Mapping[int, int],
    offers: list[BagOffer],
    smallest: Mapping[int | None, int],
    relaxed: Draft,
    better_than: int | None = None,
) -> Draft | None:
    """`relaxed`: the best bags without smallest orders. What does not score `better_than` may be
    neither the best nor all that is asked. None: a smallest order cannot be reached."""
    found = relaxed
    watched: dict[int | None, int] = {}
    while True:
        given = spent_at(found.bags)
        below = {s: least for s, least in smallest.items() if given[s] < least}
        if not below:
            return found
        watched |= below
        better = _Watching(needs, offers, watched).best(better_than)
        if better is None:
            return None
        found = better
        if better_than is not None and found.score >= better_than:
            return found


def together(drafts: Iterable[Draft]) -> Draft:
    """Drafts of different items as one."""
    bags: dict[BagOffer, int] = {}
    score = 0
    for draft in drafts:
        bags |= draft.bags
        score += draft.score
    return Draft(bags, score)


class _Watching:
    """Looks only at what can still beat the best list known.

    Whatever is still to be bought costs at least: its best bags when the watched suppliers'
    bags are forgiven a part of their price, and that part of what these must still be given.
    (Lagrangian bound, from memory.) It is true of every part, so the highest of five is used; to
    stay in whole numbers, four times every score is compared.
    """

    def __init__(
        self, needs: Mapping[int, int], offers: list[BagOffer], watched: Mapping[int | None, int]
    ) -> None:
        self.needs, self.watched = needs, watched
        self.place = {supplier: at for at, supplier in enumerate(watched)}
        self.least = tuple(watched.values())
        self.of_item = offers_by_item(offers)
        self.more = [_More(offers, supplier, least) for supplier, least in watched.items()]
        self.tables = {
            item: [self._table(item, quarters) for quarters in QUARTERS] for item in needs
        }

    def best(self, better_than: int | None) -> Draft | None:
        if any(more.table is None for more in self.more):
            return None
        known = min((self._guess(quarters) for quarters in QUARTERS), key=lambda way: way.score)
        self.bound = known.score if better_than is None else min(known.score, better_than)
        for self.ways_kept in WAYS_KEPT:
            self.cut_least = 4 * self.bound
            known = min([known, *self._best_ways()], key=lambda way: way.score)
            self.bound = min(self.bound, known.score)
            if self.cut_least >= 4 * self.bound:
                break
        least = min(self.bound, -(-self.cut_least // 4))
        return Draft(Counter(known.all_bags()), known.score, frozenset(self.watched), least)

    def _guess(self, quarters: int) -> _Way:
        bags = [
            self.of_item[item][at]
            for item, need in self.needs.items()
            for at in self.tables[item][quarters].taken(need)
        ]
        return self._with_more(self._way(bags))

    def _best_ways(self) -> list[_Way]:
        """Whatever might have beaten the bound, with its smallest orders met."""
        ways, rest = [self._way(())], self._least_for(self.needs)
        for item in self.needs:
            rest = _less(rest, self._least_for([item]))
            of_item = self._ways_to_cover(item)
            ways = self._worth_keeping(
                (self._joined(way, other) for way in ways for other in of_item), rest
            )
        return [self._with_more(way) for way in ways]

    def _ways_to_cover(self, item: int) -> list[_Way]:
        """All that are worth having; enough of an item is as good as any more of it."""
        need, tables = self.needs[item], self.tables[item]
        others = _less(self._least_for(self.needs), self._least_for([item]))
        reached: dict[int, list[_Way]] = defaultdict(list, {0: [self._way(())]})
        for covered in range(need):
            if covered not in reached:
                continue
            least = [table.score(need - covered) for table in tables]
            rest = [a + b for a, b in zip(others, least, strict=True)]
            for way in self._worth_keeping(reached.pop(covered), rest):
                for offer in self.of_item[item]:
                    after = min(need, covered + offer.count)
                    reached[after].append(self._bought(way, offer))
        return self._worth_keeping(reached[need], others)

    def _worth_keeping(self, ways: Iterable[_Way], rest: Sequence[int]) -> list[_Way]:
        """Without those that cannot beat the bound, with at least `rest` still to come, and those
        of which another gives every watched supplier as much for no worse a score."""
        able = [(least, way) for way in ways if (least := self._least(way, rest)) < 4 * self.bound]
        able.sort(key=lambda pair: (pair[0], pair[1].score))
        looked_at = self._cut(able, 8 * self.ways_kept)
        kept = self._cut(self._undominated(looked_at), self.ways_kept)
        return [way for _, way in kept]

    def _cut(self, ways: list[tuple[int, _Way]], most: int) -> list[tuple[int, _Way]]:
        if len(ways) > most:
            self.cut_least = min(self.cut_least, ways[most][0])
        return ways[:most]

    def _undominated(self, pairs: list[tuple[int, _Way]]) -> list[tuple[int, _Way]]:
        """In the order in which they came."""
        ways = [way for _, way in pairs]
        order = sorted(range(len(ways)), key=lambda at: (ways[at].score, _most_first(ways[at])))
        given = np.empty((len(ways), len(self.least)), dtype=np.int64)
        kept: list[int] = []
        for at in order:
            if not (given[: len(kept)] >= ways[at].given).all(axis=1).any():
                given[len(kept)] = ways[at].given
                kept.append(at)
        return [pairs[at] for at in sorted(kept)]

    def _least(self, way: _Way, rest: Sequence[int]) -> int:
        """Four times what it must come to at least."""
        missing = score_of(cents=sum(self.least) - sum(way.given), pieces=0, bags=0)
        still = (least + quarters * missing for quarters, least in zip(QUARTERS, rest, strict=True))
        return 4 * way.score + max(still)

    def _table(self, item: int, quarters: int) -> CoverTable:
        choices = [
            Choice(offer.count, 4 * offer.score - quarters * self._watched_price(offer))
            for offer in self.of_item[item]
        ]
        return CoverTable(self.needs[item], choices)

    def _watched_price(self, offer: BagOffer) -> int:
        is_watched = offer.supplier in self.place
        return score_of(cents=offer.cents if is_watched else 0, pieces=0, bags=0)

    def _least_for(self, items: Iterable[int]) -> list[int]:
        """By quarters, four times the score."""
        items = list(items)
        return [
            sum(self.tables[item][quarters].score(self.needs[item]) for item in items)
            for quarters in QUARTERS
        ]

    def _way(self, bags: Iterable[BagOffer]) -> _Way:
        bags = tuple(bags)
        given = spent_at(Counter(bags))
        score = sum(bag.score for bag in bags)
        return _Way(self._capped([given[s] for s in self.watched]), score, bags)

    def _bought(self, way: _Way, offer: BagOffer) -> _Way:
        given = list(way.given)
        if offer.supplier in self.place:
            given[self.place[offer.supplier]] += offer.cents
        return _Way(self._capped(given), way.score + offer.score, (offer,), (way,))

    def _joined(self, one: _Way, other: _Way) -> _Way:
        given = [a + b for a, b in zip(one.given, other.given, strict=True)]
        return _Way(self._capped(given), one.score + other.score, before=(one, other))

    def _with_more(self, way: _Way) -> _Way:
        """Up to every smallest order, with bags that are all left over."""
        missing = [least - cents for least, cents in zip(self.least, way.given, strict=True)]
        pairs = zip(self.more, missing, strict=True)
        bags = tuple(offer for more, cents in pairs for offer in more.bags(cents))
        return _Way(self.least, way.score + sum(bag.score for bag in bags), bags, (way,))

    def _capped(self, given: Sequence[int]) -> tuple[int, ...]:
        return tuple(map(min, given, self.least))


class _More:
    """The best bags of one supplier that cost at least so much: covering again, of cents."""

    def __init__(self, offers: Iterable[BagOffer], supplier: int | None, least: int) -> None:
        self.offers = [o for o in offers if o.supplier == supplier and o.cents > 0]
        choices = [Choice(offer.cents, offer.score) for offer in self.offers]
        self.table = CoverTable(least, choices) if choices else None

    def bags(self, cents: int) -> list[BagOffer]:
        return [self.offers[at] for at in self.table.taken(cents)] if self.table else []


def _most_first(way: _Way) -> list[int]:
    return [-cents for cents in way.given]


def _less(whole: Sequence[int], part: Sequence[int]) -> list[int]:
    return [a - b for a, b in zip(whole, part, strict=True)]
