"""Pictures beside the pieces of a quote: fetched after the page, never holding it up."""

import re

import pytest
from django.test import Client as Browser
from django.urls import reverse

from quoting.models import Quote
from tests.factories import PieceFactory
from tests.quoting.quotes.browsing import page, sent
from tests.quoting.quotes.variants import with_variants

pytestmark = pytest.mark.usefixtures("noon")


def fetched(shown: str) -> list[str]:
    return re.findall(r'class="quote-picture" hx-get="([^"]+)"', shown)


def test_every_described_piece_has_its_picture_and_no_other(
    quote: Quote, owner_client: Browser
) -> None:
    PieceFactory(quote=quote, title="Not described", spec=None)

    shown = page(owner_client, "quote_detail", quote.pk)

    piece = quote.pieces.first()
    assert fetched(shown) == [reverse("piece_picture", args=[piece.pk])]


def test_variants_stand_side_by_side_with_what_the_quote_would_be(
    large_quote: Quote, owner_client: Browser
) -> None:
    quote, pieces = large_quote, with_variants(large_quote)

    for name in ("quote_detail", "quote_send"):
        shown = page(owner_client, name, quote.pk)
        assert fetched(shown) == [reverse("piece_picture", args=[piece.pk]) for piece in pieces]
        assert "A: Garland over the door" in shown
        assert "B: Fuller" in shown
        assert "C: Slim" in shown
        assert shown.count("counted in the total") == 1
        assert len(re.findall(r"<strong>\$[\d,.]+ (more|less)</strong>", shown)) == 2


def test_a_variant_that_is_not_possible_is_marked_where_it_stands(
    quote: Quote, owner_client: Browser
) -> None:
    _, fuller, _ = with_variants(quote)
    fuller.spec_is_behind = True
    fuller.save()

    shown = page(owner_client, "quote_detail", quote.pk)

    card = shown[shown.index(f'id="piece-{fuller.pk}"') :]
    assert "not possible yet" in card[: card.index("</li>")]


def test_looking_it_over_shows_the_line_of_changes_that_the_client_reads(
    quote: Quote, owner_client: Browser
) -> None:
    sent(quote)
    PieceFactory(quote=quote, title="Swag")

    assert "Since edition 1: added Swag; the total is" in page(owner_client, "quote_send", quote.pk)


def test_from_an_edition_one_writes_the_letter_that_brings_it(
    quote: Quote, owner_client: Browser
) -> None:
    sent(quote)

    shown = page(owner_client, "quote_edition", quote.pk, 1)

    assert f'href="{reverse("letter_new", args=[quote.job_id, "quote"])}"' in shown
