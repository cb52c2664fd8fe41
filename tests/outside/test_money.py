"""Margin, rounding, tax and mileage against published worked examples."""

from decimal import ROUND_DOWN, ROUND_HALF_EVEN, ROUND_UP, Decimal

import pytest

from quoting.estimator import Rates
from quoting.estimator.money import round_cents, share_bp, split_exactly
from quoting.estimator.pricing import price_at_margin


@pytest.mark.parametrize(
    ("margin_bp", "markup"),
    [(1000, 0.11111), (2000, 0.25), (2500, 0.33333), (4000, 0.66667), (5000, 1.0)],
)
def test_margin_and_markup(margin_bp, markup):
    """School texts' table: margin 20 % is markup 25 %, and so on; five decimals noted."""
    cost = 10_000_000
    price = price_at_margin(cost, margin_bp)
    assert (price - cost) / cost == pytest.approx(markup, abs=5.1e-6)


def test_cost_20_at_margin_50_per_cent_sells_at_40():
    """School text."""
    assert price_at_margin(2000, 5000) == 4000


def test_cost_40_with_markup_50_per_cent_is_margin_a_third():
    """School text: sells at 60, margin 33.33 %."""
    assert price_at_margin(4000, 3333) == pytest.approx(6000, abs=1)
    assert price_at_margin(4000, 5000) != 6000, "a markup taken for a margin"


@pytest.mark.parametrize(
    ("amount", "cents"), [("2.675", 268), ("7.325", 733), ("1.005", 101), ("-2.675", -268)]
)
def test_half_up_is_what_decimal_text_says(amount, cents):
    """CPython issue 69015: 2.675 as a float rounds to 2.67; half-even makes 7.325 7.32."""
    assert round_cents(Decimal(amount) * 100) == cents
    assert Decimal("7.325").quantize(Decimal("0.01"), ROUND_HALF_EVEN) == Decimal("7.32")


@pytest.mark.parametrize(
    ("cents", "rounded"),
    [
        ("5.5", 6),
        ("2.5", 3),
        ("1.6", 2),
        ("1.1", 1),
        ("1.0", 1),
        ("-1.0", -1),
        ("-1.1", -1),
        ("-1.6", -2),
        ("-2.5", -3),
        ("-5.5", -6),
    ],
)
def test_the_rounding_mode_is_half_up_with_ties_away_from_zero(cents, rounded):
    """The inputs with which the Java platform's documentation tells its rounding modes apart, and
    its column HALF_UP, from memory. Half-even would make 2.5 a 2, down 1.6 a 1, ceiling -2.5 a -2.
    """
    assert round_cents(Decimal(cents)) == rounded


def test_the_documented_examples_of_other_rounding_modes_are_other_results():
    """Python's documentation of decimal, quick-start: 7.325 to cents with ROUND_DOWN is 7.32, and
    to a whole with ROUND_UP is 8."""
    amount = Decimal("7.325")
    assert amount.quantize(Decimal(".01"), rounding=ROUND_DOWN) == Decimal("7.32")
    assert amount.quantize(Decimal("1."), rounding=ROUND_UP) == Decimal("8")
    assert (round_cents(amount * 100), round_cents(amount)) == (733, 7)


@pytest.mark.parametrize(
    ("net", "tax_bp", "tax"), [(1000, 725, 73), (9730, 825, 803), (315, 700, 22), (105, 700, 7)]
)
def test_sales_tax(net, tax_bp, tax):
    """Streamlined Sales and Use Tax Agreement section 324: to the third decimal, up above 4.

    Three items of 1.05 at 7 %: 0.22 on the invoice, which is how an order is taxed here,
    and 0.21 by item.
    """
    assert share_bp(net, tax_bp) == tax


def test_business_mileage():
    """Internal Revenue Service rate for 2023: 65.5 cents; 46 miles are 30.13."""
    assert round_cents(Decimal(46) * Decimal("65.5")) == 3013


def test_the_default_travel_rate_is_of_the_size_of_business_mileage():
    """Internal Revenue Service rates 2022 to 2026: 58.5 to 72.5 cents a mile."""
    assert 58.5 <= Rates().travel_cents_per_km * 1.609344 <= 72.5


def test_deposit_and_balance_are_the_total():
    """587.55 by halves: 293.78 and 293.77."""
    assert split_exactly(58_755, [1, 1]) == (29_378, 29_377)
    assert share_bp(58_755, 5000) == 29_378
