"""Lists to buy: made at random, and solved by an independent solver or by trying everything."""

from collections.abc import Mapping
from itertools import product
from random import Random

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp

from inventory.buying.purchase import BagOffer, Purchase, Terms, spent_at

COUNTS = (10, 12, 25, 50, 72, 100, 144)


def random_list(
    rng: Random, *, items: int, suppliers: int, smallest: tuple[int, ...] = (0,)
) -> tuple[dict[int, int], list[BagOffer], dict[int | None, Terms]]:
    """Prices end in 0 or 5 cents, as they do."""
    needs = {item: rng.randint(1, 400) for item in range(items)}
    offers = [
        BagOffer(item, supplier, count, 5 * round(count * rng.uniform(8, 25) / 5))
        for item in needs
        for supplier in range(suppliers)
        if supplier == item % suppliers or rng.random() < 0.7
        for count in rng.sample(COUNTS, rng.randint(1, 3))
    ]
    terms = {
        supplier: Terms(rng.choice(smallest), rng.choice((0, 500, 895, 1500)))
        for supplier in range(suppliers)
    }
    return needs, offers, terms


def least_cents(
    needs: Mapping[int, int], offers: list[BagOffer], terms: Mapping[int | None, Terms]
) -> int:
    """By scipy.optimize.milp: bags of each offer, and for each supplier whether it is used."""
    suppliers = sorted({offer.supplier for offer in offers})
    many, more = len(offers), len(suppliers)
    cost = [o.cents for o in offers] + [terms[s].delivery_cents for s in suppliers]
    # No best list has more bags of a supplier than the pieces needed, or cents of its smallest.
    most = sum(needs.values()) + max(t.smallest_cents for t in terms.values())
    rows, least = [], []
    for item, need in needs.items():
        rows.append([o.count if o.item == item else 0 for o in offers] + [0] * more)
        least.append(need)
    for at, supplier in enumerate(suppliers):
        used = [int(at == other) for other in range(more)]
        rows.append([-int(o.supplier == supplier) for o in offers] + [most * u for u in used])
        smallest = terms[supplier].smallest_cents
        spent = [o.cents if o.supplier == supplier else 0 for o in offers]
        rows.append(spent + [-smallest * u for u in used])
        least += [0, 0]
    return least_cost(cost, rows, least, most=[np.inf] * many + [1] * more)


def least_cost(
    cost: list[int], rows: list[list[int]], least: list[int], *, most: list[float]
) -> int:
    """The smallest cost of whole numbers up to `most` for which every row comes to its least."""
    found = milp(
        np.array(cost, dtype=float),
        constraints=LinearConstraint(np.array(rows, dtype=float), lb=least),
        integrality=np.ones(len(cost)),
        bounds=Bounds(0, np.array(most)),
        options={"mip_rel_gap": 0},
    )
    assert found.success, found.message
    return round(found.fun)


def best_by_trying(
    needs: Mapping[int, int],
    offers: list[BagOffer],
    terms: Mapping[int | None, Terms],
    *,
    most_bags: int,
) -> tuple[int, int, int]:
    """Cents, pieces and bags of the best of all lists with up to so many bags of each offer."""
    best = None
    for times in product(range(most_bags + 1), repeat=len(offers)):
        bags = {offer: n for offer, n in zip(offers, times, strict=True) if n}
        if _is_allowed(bags, needs, terms):
            scored = (
                sum(o.cents * n for o, n in bags.items()) + _delivery(bags, terms),
                sum(o.count * n for o, n in bags.items()),
                sum(bags.values()),
            )
            best = scored if best is None else min(best, scored)
    assert best is not None
    return best


def scored(purchase: Purchase) -> tuple[int, int, int]:
    bags = purchase.bags
    return purchase.cents, sum(o.count * n for o, n in bags.items()), sum(bags.values())


def _is_allowed(
    bags: Mapping[BagOffer, int], needs: Mapping[int, int], terms: Mapping[int | None, Terms]
) -> bool:
    return all(
        sum(o.count * n for o, n in bags.items() if o.item == item) >= need
        for item, need in needs.items()
    ) and all(cents >= terms[s].smallest_cents for s, cents in spent_at(bags).items())


def _delivery(bags: Mapping[BagOffer, int], terms: Mapping[int | None, Terms]) -> int:
    return sum(terms[supplier].delivery_cents for supplier in {o.supplier for o in bags})
