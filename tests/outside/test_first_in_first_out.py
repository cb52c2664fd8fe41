"""First in, first out against worked examples of accounting textbooks. All figures are exact."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.ledger.fifo import FifoCost, Layer, fifo_cost

# Units and dollars each of what was bought, units used; cost of goods used and closing stock.
EXAMPLES = {
    # Wild, Fundamental Accounting Principles, the problem of Warnerwoods Company: the book is
    # named from memory, the figures are those of a published solution.
    "Wild": ([(100, 50), (400, 55), (120, 60), (200, 62)], 420 + 160, 31_800, 14_800),
    # OpenStax, Principles of Accounting, volume 1, section 10.3 (from memory).
    "OpenStax": ([(150, 21), (225, 27), (210, 33)], 120 + 180, 7_200, 8_955),
    # Weygandt, Kimmel and Kieso, Financial Accounting: Houston Electronics (from memory).
    "Weygandt": ([(100, 10), (200, 11), (300, 12), (400, 13)], 550, 6_200, 5_800),
}


def layers_of(bought: list[tuple[int, int]]) -> list[Layer]:
    return [Layer(units, units * dollars * 100) for units, dollars in bought]


@pytest.mark.parametrize("name", EXAMPLES)
def test_cost_of_goods_used_and_closing_stock_are_the_books(name: str) -> None:
    bought, used, used_dollars, closing_dollars = EXAMPLES[name]

    cost = fifo_cost(layers_of(bought), used=used)

    assert cost == FifoCost(used_dollars * 100, closing_dollars * 100)


def test_it_is_the_same_sale_by_sale_as_at_the_end() -> None:
    first = fifo_cost(layers_of([(100, 50), (400, 55)]), used=420)
    # 100 at 50 and 320 at 55; 80 at 55 are left (same source)
    assert first == FifoCost(22_600_00, 4_400_00)
    second = fifo_cost(layers_of([(80, 55), (120, 60), (200, 62)]), used=160)
    # 80 at 55 and 80 at 60; 40 at 60 and 200 at 62 are left (same source)
    assert second == FifoCost(9_200_00, 14_800_00)


@given(
    st.lists(st.tuples(st.integers(1, 500), st.integers(0, 100_000)), min_size=1, max_size=8),
    st.data(),
)
def test_no_cent_is_lost_or_made(bought: list[tuple[int, int]], data: st.DataObject) -> None:
    layers = [Layer(units, cents) for units, cents in bought]
    used = data.draw(st.integers(0, sum(units for units, _ in bought)))

    cost = fifo_cost(layers, used=used)

    assert cost.used_cents + cost.closing_cents == sum(cents for _, cents in bought)
    assert cost.used_cents >= 0 and cost.closing_cents >= 0


@pytest.mark.parametrize("used", [-1, 11])
def test_more_than_was_bought_cannot_have_been_used(used: int) -> None:
    with pytest.raises(ValueError):
        fifo_cost([Layer(10, 100)], used=used)
