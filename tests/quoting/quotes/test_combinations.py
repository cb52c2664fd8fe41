"""Every way to choose has its exact price in the edition, so that what is accepted is exact."""

from dataclasses import replace
from datetime import date

import pytest

from quoting.models import Quote
from quoting.models.quote import DiscountKind
from quoting.pieces.variants import variant_choose
from quoting.quotes.checks import TOO_MANY_COMBINATIONS
from quoting.quotes.combinations import NotOnOffer, counted_choice, frozen_combination
from quoting.quotes.editions import CannotSend, draft_of
from quoting.quotes.service import quote_priced
from tests.factories import ExtraLineFactory, PieceFactory, arch_spec
from tests.quoting.quotes.variants import beside, with_variants


def gate(quote: Quote, title: str) -> None:
    piece = PieceFactory(quote=quote, title=title, spec=arch_spec(width_m=2.0), position=1)
    beside(piece, title=f"{title}, slim", width=[[0, 0.3], [1, 0.3]])


def test_every_combination_costs_what_the_quote_would_with_it_to_the_cent(
    large_quote: Quote, today: date
) -> None:
    """Against the same quote in which those variants were made the ones that count."""
    quote = large_quote
    with_variants(quote)
    gate(quote, "Gate")
    ExtraLineFactory(quote=quote, quantity=2)
    quote.discount_kind, quote.discount_bp = DiscountKind.PERCENT, 750
    quote.save()
    result = draft_of(quote, today=today).result
    assert len(result["combinations"]) == 6

    for kept in result["combinations"]:
        chosen = {int(number): pk for number, pk in kept["chosen"].items()}
        for pk in chosen.values():
            variant_choose(piece=quote.pieces.get(pk=pk))
        expected = quote_priced(Quote.objects.get(pk=quote.pk), today=today)
        found = frozen_combination(result, chosen)
        assert (found.cost_cents, found.net_cents, found.tax_cents, found.total_cents) == (
            expected.price.cost_cents,
            expected.price.net_cents,
            expected.price.tax_cents,
            expected.price.total_cents,
        )
        assert found.plan == expected.plan


def test_without_variants_the_one_combination_is_the_quote(quote: Quote, today: date) -> None:
    result = draft_of(quote, today=today).result
    found = frozen_combination(result, {})
    assert (found.total_cents, found.plan.total_cents) == (result["price"]["total_cents"],) * 2
    assert result["combinations"] == []


def test_what_counts_is_one_of_the_combinations_and_costs_the_total(
    quote: Quote, today: date
) -> None:
    with_variants(quote)
    result = draft_of(quote, today=today).result
    counted = frozen_combination(result, counted_choice(result))
    assert counted.total_cents == result["price"]["total_cents"]


def test_what_is_not_on_offer_has_no_price(quote: Quote, today: date) -> None:
    first, *_ = with_variants(quote)
    gate(quote, "Gate")
    result = draft_of(quote, today=today).result
    other = next(one["id"] for one in result["variants"] if one["choice"] != first.choice)
    whole = counted_choice(result)
    one_too_few = {first.choice: first.pk}
    for chosen in ({}, one_too_few, {**whole, first.choice: other}, {**whole, 99: first.pk}):
        with pytest.raises(NotOnOffer):
            frozen_combination(result, chosen)


def test_an_edition_of_before_still_knows_the_price_of_its_one_choice_but_no_cost(
    quote: Quote, today: date
) -> None:
    pieces = with_variants(quote)
    result = draft_of(quote, today=today).result
    expected = [frozen_combination(result, {pieces[0].choice: piece.pk}) for piece in pieces]
    del result["combinations"]
    found = [frozen_combination(result, {pieces[0].choice: piece.pk}) for piece in pieces]
    assert found == [replace(one, cost_cents=None) for one in expected]


def test_more_ways_to_choose_than_anyone_looks_through_cannot_be_sent(
    quote: Quote, today: date
) -> None:
    for number in range(5):
        gate(quote, f"Gate {number}")
    with pytest.raises(CannotSend, match=TOO_MANY_COMBINATIONS.format(count=32, most=27)):
        draft_of(quote, today=today)
