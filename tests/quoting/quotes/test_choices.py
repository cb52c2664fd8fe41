"""Variants in a quote and its editions: each with its own price, one of which counts."""

from datetime import date

import pytest

from quoting.models import Quote
from quoting.models.quote import DiscountKind
from quoting.pieces.service import piece_delete
from quoting.pieces.variants import variant_choose
from quoting.quotes.changes import edition_changes
from quoting.quotes.choices import choices_of
from quoting.quotes.editions import draft_of
from quoting.quotes.service import quote_priced
from tests.factories import ExtraLineFactory, PieceFactory, arch_spec
from tests.quoting.quotes.sending import send
from tests.quoting.quotes.variants import beside, with_variants


@pytest.fixture
def rich_quote(large_quote: Quote) -> Quote:
    """Everything that could make a price more than the sum of its parts."""
    quote = large_quote
    with_variants(quote)
    other = PieceFactory(quote=quote, title="Gate", spec=arch_spec(width_m=2.0))
    beside(other, title="Gate, slim", width=[[0, 0.3], [1, 0.3]])
    ExtraLineFactory(quote=quote, quantity=2)
    quote.discount_kind, quote.discount_bp = DiscountKind.PERCENT, 750
    quote.discount_reason = "Friends"
    quote.save()
    return quote


def test_every_variant_costs_what_the_quote_would_with_it_to_the_cent(
    rich_quote: Quote, today: date
) -> None:
    """Against the same quote in which that variant was made the one that counts."""
    options = draft_of(rich_quote, today=today).result["variants"]
    assert [(one["variant"], one["counts"]) for one in options] == [
        ("A", True),
        ("B", False),
        ("C", False),
        ("A", True),
        ("B", False),
    ]
    counted = quote_priced(rich_quote, today=today).price.total_cents

    for option in options:
        first = rich_quote.pieces.get(choice=option["choice"], counts=True)
        variant_choose(piece=rich_quote.pieces.get(pk=option["id"]))
        chosen = quote_priced(Quote.objects.get(pk=rich_quote.pk), today=today)
        shares = {piece.piece.pk: piece.share_cents for piece in chosen.pieces}
        assert option["net_cents"] == chosen.price.net_cents
        assert option["tax_cents"] == chosen.price.tax_cents
        assert option["total_cents"] == chosen.price.total_cents
        assert option["more_cents"] == chosen.price.total_cents - counted
        assert option["share_cents"] == shares[option["id"]]
        assert option["payment"]["deposit_cents"] == chosen.plan.deposit_cents
        variant_choose(piece=first)


def test_an_edition_keeps_every_variant_with_its_estimate(quote: Quote) -> None:
    pieces = with_variants(quote)

    edition = send(quote)

    options = edition.result["variants"]
    assert [one["id"] for one in options] == [piece.pk for piece in pieces]
    assert [one["title"] for one in options] == ["Garland over the door", "Fuller", "Slim"]
    assert [one.get("estimate") is None for one in options] == [True, False, False]
    assert options[0]["total_cents"] == edition.total_cents
    assert {one["id"] for one in edition.inputs["offer"]["variants"]} == {
        pieces[1].pk,
        pieces[2].pk,
    }
    assert set(edition.inputs["variants_in_words"]) == {str(pieces[1].pk), str(pieces[2].pk)}


def test_without_variants_there_is_nothing_to_choose(quote: Quote, today: date) -> None:
    assert choices_of(quote_priced(quote, today=today)) == ()
    assert draft_of(quote, today=today).result["variants"] == []


def test_a_dearer_variant_is_more_and_a_cheaper_less(large_quote: Quote, today: date) -> None:
    with_variants(large_quote)

    (choice,) = choices_of(quote_priced(large_quote, today=today))

    assert [option.more_cents > 0 for option in choice.options] == [False, True, False]
    assert choice.options[2].more_cents < 0
    assert choice.counting is choice.options[0]


# ---- In words ----


def words(quote: Quote, today: date, act) -> list[str]:
    before = draft_of(quote, today=today)
    act()
    after = draft_of(Quote.objects.get(pk=quote.pk), today=today)
    return edition_changes(before.inputs, after.inputs, total_before=0, total_after=0)


def test_a_variant_that_is_added_is_named_with_its_letter(quote: Quote, today: date) -> None:
    said = words(quote, today, lambda: with_variants(quote))

    assert said == ["Added: Fuller (B)", "Added: Slim (C)"]


def test_a_variant_that_counts_now_is_said_and_nothing_else(quote: Quote, today: date) -> None:
    _, fuller, _ = with_variants(quote)

    assert words(quote, today, lambda: variant_choose(piece=fuller)) == [
        "Counts in the total now: Fuller (B)"
    ]


def test_a_change_of_a_variant_that_does_not_count_is_a_change(quote: Quote, today: date) -> None:
    _, _, slim = with_variants(quote)

    def act() -> None:
        slim.spec = {**slim.spec, "base": [{"colour": "plum", "share": 1.0}]}
        slim.save()

    assert words(quote, today, act) == ["Slim (C): colours oat 60%, fern 40% → plum 100%"]


def test_taking_a_variant_out_is_said(quote: Quote, today: date) -> None:
    _, _, slim = with_variants(quote)

    assert words(quote, today, lambda: piece_delete(piece=slim)) == ["Taken out: Slim (C)"]


def test_an_edition_from_before_variants_is_still_compared(quote: Quote, today: date) -> None:
    """Such an edition has none of the keys that came with variants, photos and pictures."""
    before = draft_of(quote, today=today)
    old = {key: before.inputs[key] for key in before.inputs}
    for key in ("variants_in_words", "photos", "since"):
        del old[key]
    with_variants(quote)
    after = draft_of(quote, today=today)

    said = edition_changes(old, after.inputs, total_before=0, total_after=0)

    assert said == ["Added: Fuller (B)", "Added: Slim (C)"]
