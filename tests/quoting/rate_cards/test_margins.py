import pytest

from quoting.rate_cards.margins import markup_bp_of
from quoting.rate_cards.measures import Showing
from quoting.rate_cards.steps import price_steps
from tests.quoting.rate_cards.cards import rates_with

# Margin 20 % is a markup of 25 %; a margin of 50 % doubles the cost: school texts on margin and
# markup. The table 10, 25, 40, 50 is computed from m / (1 - m) by hand.
MARGINS = [(0, 0), (1000, 1111), (2000, 2500), (2500, 3333), (4000, 6667), (5000, 10_000)]


@pytest.mark.parametrize(("margin_bp", "markup_bp"), MARGINS)
def test_markup_is_margin_over_what_is_left_of_one(margin_bp, markup_bp):
    assert markup_bp_of(margin_bp) == markup_bp


def test_a_markup_of_half_is_a_margin_of_a_third():
    """Cost 40 sells at 60 with 50 % markup, margin 33.33 %: school texts."""
    assert markup_bp_of(3333) == 4999
    assert markup_bp_of(3334) == 5002


def test_markup_is_always_the_larger_number():
    assert all(markup_bp_of(margin) > margin for margin in range(100, 9501, 100))


def test_a_card_says_the_markup_beside_the_margin():
    steps = price_steps(rates_with(margin_bp=4000), Showing("imperial", "USD"))
    margin = next(step for step in steps if step.kind == "margin")
    assert margin.rate == "40 % of the price"
    assert "a markup of 66.67 % on cost" in margin.why
