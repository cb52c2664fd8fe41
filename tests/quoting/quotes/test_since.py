"""The one short line by which a later edition tells the client what is other than before."""

import re
from collections.abc import Callable
from datetime import date

import pytest

from quoting.models import Quote
from quoting.models.quote import DiscountKind
from quoting.pieces.variants import variant_choose
from quoting.quotes.editions import draft_of
from quoting.quotes.service import quote_use_current_rates
from tests.factories import ExtraLineFactory, PieceFactory, RateCardFactory
from tests.quoting.quotes.sending import send, widen
from tests.quoting.quotes.variants import with_variants


def line(quote: Quote, today: date, act: Callable[[], object]) -> str:
    send(quote)
    act()
    return draft_of(Quote.objects.get(pk=quote.pk), today=today).inputs["since"]


def test_a_first_edition_has_none(quote: Quote) -> None:
    assert send(quote).inputs["since"] == ""


def test_it_names_what_changed_and_both_totals(large_quote: Quote, today: date) -> None:
    said = line(large_quote, today, lambda: widen(large_quote, 4.5))

    assert re.fullmatch(
        r"Since edition 1: changed Garland over the door; "
        r"the total is \$\d+\.\d\d instead of \$\d+\.\d\d\.",
        said,
    )


def test_it_names_what_was_added_and_taken_out(quote: Quote, today: date) -> None:
    sign = ExtraLineFactory(quote=quote, label="Sign")

    def act() -> None:
        sign.delete()
        PieceFactory(quote=quote, title="Swag")

    said = line(quote, today, act)

    assert "added Swag; taken out Sign;" in said


def test_many_names_are_counted(quote: Quote, today: date) -> None:
    def act() -> None:
        for number in range(5):
            ExtraLineFactory(quote=quote, label=f"Sign {number}")

    assert "added Sign 0, Sign 1, Sign 2 and 2 more;" in line(quote, today, act)


def test_another_day_and_a_discount_are_changes(quote: Quote, today: date) -> None:
    def act() -> None:
        quote.job.event_on = date(2026, 6, 27)
        quote.job.save()
        quote.discount_kind, quote.discount_bp = DiscountKind.PERCENT, 500
        quote.discount_reason = "Friends"
        quote.save()

    assert "changed the day and the discount;" in line(quote, today, act)


def test_another_variant_that_counts_is_a_change_of_both(large_quote: Quote, today: date) -> None:
    fuller = with_variants(large_quote)[1]

    said = line(large_quote, today, lambda: variant_choose(piece=fuller))

    assert "changed Fuller (B) and Garland over the door (A);" in said


def test_rates_show_as_a_total_and_never_by_name(quote: Quote, today: date) -> None:
    rates = {**quote.rate_card.rates, "margin_bp": 5500}

    def act() -> None:
        RateCardFactory(version=2, rates=rates)
        quote_use_current_rates(quote=quote, today=today)

    said = line(quote, today, act)

    assert re.fullmatch(r"Since edition 1: the total is \S+ instead of \S+\.", said)


@pytest.mark.parametrize("unseen", [{"confidence": 0.99}, {"seed": 7}])
def test_what_the_client_does_not_see_is_not_said(quote: Quote, today: date, unseen: dict) -> None:
    def act() -> None:
        piece = quote.pieces.get()
        piece.spec = {**piece.spec, **unseen}
        piece.save()

    assert "Garland" not in line(quote, today, act)
