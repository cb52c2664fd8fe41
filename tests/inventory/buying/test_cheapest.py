"""The cheapest bags for a whole list, over suppliers. See lists.py for the independent answers."""

from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inventory.buying import smallest
from inventory.buying.cheapest import cheapest
from inventory.buying.purchase import BagOffer, Terms, spent_at
from tests.inventory.buying.lists import best_by_trying, least_cents, random_list, scored

FERN, OAT = 1, 2
QUAY, MARKET = 7, 8


@pytest.mark.parametrize("seed", range(300))
def test_as_cheap_as_scipy_finds_with_delivery_charges(seed):
    """scipy.optimize.milp (the HiGHS solver), on up to eight items and five suppliers."""
    rng = Random(seed)
    asked = random_list(rng, items=rng.randint(1, 8), suppliers=rng.randint(1, 5))
    found = cheapest(*asked)
    assert found.is_exact
    assert found.cents == least_cents(*asked)


@pytest.mark.parametrize("seed", range(120))
def test_as_cheap_as_scipy_finds_with_smallest_orders_too(seed):
    """scipy.optimize.milp, with one to three suppliers who want 25 or 40 for an order."""
    rng = Random(1000 + seed)
    asked = random_list(
        rng, items=rng.randint(1, 5), suppliers=rng.randint(1, 3), smallest=(0, 2500, 4000)
    )
    found = cheapest(*asked)
    assert found.is_exact
    assert found.cents == least_cents(*asked)


@given(st.integers(0, 10_000))
@settings(max_examples=60)
def test_nothing_tried_is_better_not_even_in_what_is_left_over(seed):
    """By trying every list of up to five bags of each offer."""
    rng = Random(seed)
    offers = [
        BagOffer(item, supplier, rng.choice((10, 12, 25)), 5 * rng.randint(10, 60))
        for item in (FERN, OAT)
        for supplier in (QUAY, MARKET)
    ]
    needs = {FERN: rng.randint(1, 40), OAT: rng.randint(1, 40)}
    terms = {
        s: Terms(rng.choice((0, 0, 300, 600)), rng.choice((0, 100, 250))) for s in (QUAY, MARKET)
    }
    found = cheapest(needs, offers, terms)
    # Ten would be needed at the most to reach 600 cents; the best of a need of 40 has four.
    assert scored(found) <= best_by_trying(needs, offers, terms, most_bags=5)
    assert all(left >= 0 for left in found.left_over.values())
    assert all(cents >= terms[s].smallest_cents for s, cents in spent_at(found.bags).items())
    delivery = sum(terms[s].delivery_cents for s in spent_at(found.bags))
    assert found.cents == sum(spent_at(found.bags).values()) + delivery


def test_a_delivery_charge_is_saved_by_buying_all_from_one():
    offers = [
        BagOffer(FERN, QUAY, 100, 1450),
        BagOffer(FERN, MARKET, 100, 1500),
        BagOffer(OAT, MARKET, 100, 1450),
    ]
    found = cheapest({FERN: 80, OAT: 80}, offers, {QUAY: Terms(0, 895), MARKET: Terms(0, 895)})
    assert {offer.supplier for offer in found.bags} == {MARKET}
    assert found.cents == 1500 + 1450 + 895


def test_a_smallest_order_is_reached_with_the_cheapest_more():
    offers = [BagOffer(FERN, QUAY, 50, 850), BagOffer(FERN, QUAY, 100, 1450)]
    found = cheapest({FERN: 40}, offers, {QUAY: Terms(2000, 0)})
    assert found.cents == 850 + 1450
    assert found.left_over == {FERN: 110}
    assert found.raised == {QUAY}


def test_a_dearer_supplier_without_a_smallest_order_is_taken_for_a_little():
    offers = [BagOffer(FERN, QUAY, 50, 850), BagOffer(FERN, MARKET, 50, 1200)]
    found = cheapest({FERN: 40}, offers, {QUAY: Terms(4000, 895)})
    assert list(found.bags) == [offers[1]]
    assert not found.raised


def test_one_item_is_bought_from_two_where_that_is_cheaper():
    offers = [BagOffer(FERN, QUAY, 100, 1000), BagOffer(FERN, MARKET, 10, 120)]
    found = cheapest({FERN: 110}, offers)
    assert found.cents == 1120
    assert found.left_over == {FERN: 0}


def test_nothing_short_is_nothing_bought():
    found = cheapest({FERN: 0}, [BagOffer(FERN, QUAY, 50, 850)], {QUAY: Terms(4000, 895)})
    assert (found.bags, found.cents) == ({}, 0)


def test_what_nobody_sells_is_refused():
    with pytest.raises(ValueError, match="nobody sells"):
        cheapest({FERN: 1, OAT: 1}, [BagOffer(FERN, QUAY, 50, 850)])


def test_free_bags_never_reach_a_smallest_order():
    with pytest.raises(ValueError, match="never be reached"):
        cheapest({FERN: 1}, [BagOffer(FERN, QUAY, 50, 0)], {QUAY: Terms(100, 0)})


@pytest.mark.parametrize("seed", [4, 6])
def test_with_too_much_to_look_through_it_covers_and_says_so(monkeypatch, seed):
    monkeypatch.setattr(smallest, "WAYS_KEPT", (2,))
    asked = random_list(Random(seed), items=5, suppliers=3, smallest=(4000, 10000))
    found = cheapest(*asked)
    assert not found.is_exact
    assert all(left >= 0 for left in found.left_over.values())
    assert all(cents >= asked[2][s].smallest_cents for s, cents in spent_at(found.bags).items())
    assert found.cents > least_cents(*asked)


@pytest.mark.parametrize("seed", range(60))
def test_where_it_says_that_it_is_exact_it_is(seed):
    """scipy.optimize.milp, where every supplier wants 40 or 100: harder than any real list."""
    rng = Random(2000 + seed)
    asked = random_list(rng, items=rng.randint(1, 4), suppliers=3, smallest=(4000, 10000))
    found = cheapest(*asked)
    least = least_cents(*asked)
    assert found.cents == least if found.is_exact else found.cents >= least
