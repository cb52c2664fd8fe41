"""The cheapest whole bags for one need."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.buying import covering
from inventory.buying.covering import Choice, cents_in, cover, score_of
from inventory.buying.purchase import BagOffer, Terms
from tests.inventory.buying.lists import best_by_trying


def bag(count: int, cents: int) -> Choice:
    return Choice(count, score_of(cents=cents, pieces=count, bags=1))


BAGS = [bag(25, 475), bag(50, 850), bag(100, 1450)]


# Own numbers, exact by enumeration: need, bags of 25, 50 and 100, cents.
@pytest.mark.parametrize(
    ("need", "times", "cents"),
    [
        (26, (0, 1, 0), 850),
        (51, (1, 1, 0), 1325),
        (76, (0, 0, 1), 1450),
        (101, (1, 0, 1), 1925),
        (230, (0, 1, 2), 3750),
    ],
)
def test_bags_of_25_50_and_100(need, times, cents):
    found = cover(need, BAGS)
    assert (found.times, cents_in(found.score), found.is_exact) == (times, cents, True)


def test_43_is_the_most_that_packs_of_6_9_and_20_cannot_make():
    """Massachusetts Institute of Technology, course 6.00, problem set 2: McNuggets."""
    packs = [bag(6, 6), bag(9, 9), bag(20, 20)]  # a cent a piece: the cheapest is the nearest
    made = [need for need in range(1, 200) if cents_in(cover(need, packs).score) == need]
    assert max(set(range(1, 200)) - set(made)) == 43
    assert cents_in(cover(43, packs).score) == 44


def test_coins_of_1_3_and_4_make_6_with_two_where_the_greedy_take_three():
    """The usual example of where greedy change fails, from memory."""
    coins = [bag(1, 1), bag(3, 1), bag(4, 1)]
    assert cover(6, coins).times == (0, 2, 0)


def test_nothing_costs_nothing():
    assert cover(0, BAGS).score == 0


def test_of_two_that_cost_the_same_the_one_with_less_left_over_is_taken():
    assert cover(50, [bag(50, 900), bag(60, 900)]).times == (1, 0)


def test_then_the_one_with_fewer_bags():
    assert cover(100, [bag(50, 500), bag(100, 1000)]).times == (0, 1)


@given(
    need=st.integers(1, 60),
    bags=st.lists(st.tuples(st.integers(5, 40), st.integers(0, 900)), min_size=1, max_size=3),
)
def test_it_covers_and_nothing_tried_is_better(need, bags):
    """By trying everything: twelve bags of the smallest cover the most that is needed."""
    found = cover(need, [bag(*each) for each in bags])
    got = sum(n * count for n, (count, _) in zip(found.times, bags, strict=True))
    assert got >= need
    offers = [BagOffer(1, at, count, cents) for at, (count, cents) in enumerate(bags)]
    terms = dict.fromkeys(range(3), Terms())
    cents, pieces, many = best_by_trying({1: need}, offers, terms, most_bags=12)
    assert found.score == score_of(cents=cents, pieces=pieces, bags=many)


@given(
    need=st.integers(1, 30_000),
    bags=st.lists(st.tuples(st.integers(1, 30), st.integers(1, 900)), min_size=1, max_size=4),
)
def test_much_of_it_is_covered_as_well_as_by_the_whole_table(need, bags):
    """The short cut for large needs takes nothing away."""
    choices = [bag(*each) for each in bags]
    assert cover(need, choices).score == covering.CoverTable(need, choices).score(need)


def test_more_than_can_be_tabled_is_covered_and_says_that_it_may_not_be_the_best():
    odd = [bag(99_991, 90_000), bag(99_989, 90_001), bag(7, 8)]
    found = cover(50_000_000, odd)
    got = sum(n * choice.gives for n, choice in zip(found.times, odd, strict=True))
    assert got >= 50_000_000
    assert not found.is_exact
