"""A quote priced whole: shares, extra lines, discount, and worked examples from outside."""

from datetime import date
from typing import Any

import pytest

from quoting.estimator import example_rates, rates_to_dict
from quoting.models import Quote
from quoting.models.quote import DiscountKind
from quoting.quotes.page import quote_page
from quoting.quotes.pricing import NOT_DESCRIBED, PricedQuote, quote_priced
from tests.factories import (
    ExtraLineFactory,
    JobFactory,
    PieceFactory,
    QuoteFactory,
    RateCardFactory,
    SiteFactory,
    arch_spec,
)

PLAIN: dict[str, Any] = {
    "minimum_cents": 0,
    "rounding_cents": 1,
    "strike_fee_cents": 0,
    "rush": [],
    "overhead_bp": 0,
    "kit_wear_cents": 0,
}


def card(version: int = 7, **rates: Any):
    return RateCardFactory(version=version, rates={**rates_to_dict(example_rates()), **rates})


def lines_only(*cents: int, **rates: Any) -> Quote:
    """A quote of extra lines, so that its price before tax is known to the cent."""
    quote = QuoteFactory(rate_card=card(**{**PLAIN, **rates}), includes_strike=False)
    for amount in cents:
        ExtraLineFactory(quote=quote, unit_cents=amount)
    return quote


def adds_up(priced: PricedQuote) -> bool:
    shares = sum(piece.share_cents for piece in priced.pieces)
    extras = sum(line.quantity * line.unit_cents for line in priced.extra_lines)
    net = shares + extras + priced.remainder_cents - priced.discount_cents
    return net == priced.price.net_cents


@pytest.mark.parametrize("count", [1, 2, 3, 7])
def test_the_pieces_shares_add_up_to_the_cent(quote: Quote, today: date, count: int) -> None:
    for number in range(count - 1):
        PieceFactory(quote=quote, spec=arch_spec(width_m=1.5 + 0.37 * number))
    ExtraLineFactory(quote=quote, quantity=3, unit_cents=1999)

    priced = quote_priced(quote, today=today)

    assert len(priced.pieces) == count
    assert all(piece.share_cents > 0 for piece in priced.pieces)
    assert priced.remainder_cents == 0
    assert adds_up(priced)


def test_a_dearer_piece_has_a_larger_share(quote: Quote, today: date) -> None:
    PieceFactory(quote=quote, spec=arch_spec(width_m=4.8, height_m=3.0))

    small, large = quote_priced(quote, today=today).pieces

    assert large.share_cents > small.share_cents


def test_minimum_and_rounding_of_extra_lines_alone_are_a_line_of_their_own(
    quote: Quote, today: date
) -> None:
    quote.pieces.all().delete()
    ExtraLineFactory(quote=quote, unit_cents=6500)

    priced = quote_priced(quote, today=today)

    assert priced.remainder_cents > 0
    assert adds_up(priced)


def test_a_piece_that_is_not_described_has_no_share_and_says_why(quote: Quote, today: date) -> None:
    PieceFactory(quote=quote, spec=None)

    priced = quote_priced(quote, today=today)

    assert [piece.problem for piece in priced.pieces] == ["", NOT_DESCRIBED]
    assert not priced.is_whole
    assert adds_up(priced)


def test_a_piece_in_a_colour_that_is_no_more_says_which(quote: Quote, today: date) -> None:
    PieceFactory(quote=quote, spec={**arch_spec(), "base": [{"colour": "heather", "share": 1}]})

    problem = quote_priced(quote, today=today).pieces[1].problem

    assert "heather" in problem


# ---- What the job says bears on the price ----


def kinds(quote: Quote, today: date) -> set[str]:
    return {line.kind for line in quote_priced(quote, today=today).price.lines}


def test_a_near_event_is_a_rush(quote: Quote, today: date) -> None:
    quote.job.event_on = date(2026, 6, 16)
    assert "rush" in kinds(quote, today)

    quote.job.event_on = date(2026, 8, 16)
    assert "rush" not in kinds(quote, today)


def test_without_a_date_no_rush_is_charged(quote: Quote, today: date) -> None:
    quote.job.event_on = None

    assert "rush" not in kinds(quote, today)


def test_outside_hours_and_taking_down_are_charged_when_chosen(quote: Quote, today: date) -> None:
    quote.is_outside_hours, quote.includes_strike = True, False
    found = kinds(quote, today)
    assert "outside hours" in found
    assert "strike" not in found

    quote.is_outside_hours, quote.includes_strike = False, True
    found = kinds(quote, today)
    assert "outside hours" not in found
    assert "strike" in found


def test_the_places_distance_is_driven_there_and_back_for_each_visit(
    business, catalogue, today: date
) -> None:
    """Two visits (hanging, taking down), there and back: 4 × 10 km at 45 cents is 18.00."""
    site = SiteFactory(distance_m=10_000, drive_minutes=15)
    quote = QuoteFactory(job=JobFactory(site=site, client=site.client))
    PieceFactory(quote=quote)

    lines = quote_priced(quote, today=today).price.lines

    assert [line.amount_cents for line in lines if line.kind == "travel"] == [1800]


# ---- Discount ----


def test_a_per_cent_is_taken_off_the_price_and_named(business, catalogue, today: date) -> None:
    quote = lines_only(10000, tax_bp=0)
    quote.discount_kind, quote.discount_bp = DiscountKind.PERCENT, 1250
    quote.discount_reason = "Second booking"

    priced = quote_priced(quote, today=today)

    assert (priced.discount_cents, priced.price.net_cents) == (1250, 8750)
    assert "Second booking (12.5 %)" in [line.label for line in priced.price.lines]
    assert adds_up(priced)


def test_an_amount_never_takes_more_than_there_is(business, catalogue, today: date) -> None:
    quote = lines_only(5000, tax_bp=0)
    quote.discount_kind, quote.discount_cents = DiscountKind.AMOUNT, 9900

    priced = quote_priced(quote, today=today)

    assert (priced.discount_cents, priced.price.total_cents) == (5000, 0)
    assert adds_up(priced)


# ---- Worked examples from outside ----


@pytest.mark.parametrize(
    ("amounts", "tax_bp", "tax_cents"),
    [
        # Streamlined Sales and Use Tax Agreement, section 324, and Revised Code of Washington
        # 82.08.054: carried to the third decimal, up above four, on the invoice.
        ([1000], 725, 73),  # half to even would say 0.72
        ([9730], 825, 803),
        ([105, 105, 105], 700, 22),  # by the invoice; item by item it would be 0.21
    ],
)
def test_tax_is_rounded_once_on_the_whole_invoice(
    business, catalogue, today: date, amounts: list[int], tax_bp: int, tax_cents: int
) -> None:
    quote = lines_only(*amounts, tax_bp=tax_bp)

    assert quote_priced(quote, today=today).price.tax_cents == tax_cents


def test_delivery_is_part_of_what_is_taxed(business, catalogue, today: date) -> None:
    """New York, TB-ST-838: 499.95 of goods, 30 and 20 of delivery: tax is on 549.95."""
    price = quote_priced(lines_only(49995, 3000, 2000, tax_bp=800), today=today).price

    assert price.net_cents == 54995
    assert price.tax_cents == 4400  # 8 % of 549.95 is 43.996


@pytest.mark.parametrize(
    ("margin_bp", "markup_bp"),
    # Margin to markup: 20 % is 25 % (school texts); 10, 25, 40, 50 recomputed with decimal.
    [(1000, 1111), (2000, 2500), (2500, 3333), (4000, 6667), (5000, 10_000)],
)
def test_a_margin_is_of_the_price_and_its_markup_is_said_beside_it(
    quote: Quote, business, today: date, margin_bp: int, markup_bp: int
) -> None:
    """Within 0.03 of a per cent, as a price of about 100.00 is rounded to whole cents."""
    quote.rate_card = card(**PLAIN, margin_bp=margin_bp)
    quote.includes_strike = False

    page = quote_page(quote, business=business, today=today)

    assert page.priced.price.margin_bp == pytest.approx(margin_bp, abs=3)
    assert page.markup_bp == pytest.approx(markup_bp, abs=3)
    assert page.kept_cents == page.priced.price.net_cents - page.priced.price.cost_cents


def test_the_pages_cost_groups_and_steps_add_up_to_the_total(
    quote: Quote, business, today: date
) -> None:
    ExtraLineFactory(quote=quote)

    page = quote_page(quote, business=business, today=today)

    cost = sum(group.amount_cents for group in page.costs)
    assert cost == page.priced.price.cost_cents
    assert cost + sum(line.amount_cents for line in page.steps) == page.priced.price.total_cents
