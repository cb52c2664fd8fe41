"""The pieces of a quote as its owner's page shows them, variants beside the one that counts."""

from collections.abc import Iterator
from dataclasses import dataclass

from quoting.documents.pieces import more_text
from quoting.models import Piece
from quoting.pieces.words import Swatch, palette_of, piece_in_words
from quoting.quotes.checks import PIECE_IS_BEHIND
from quoting.quotes.pricing import PricedPiece, PricedQuote, PricedVariant
from quoting.quotes.traced import traced_offer


@dataclass(frozen=True, kw_only=True)
class PieceShown:
    """`share_cents` None: not described yet. `is_on_photo`: the client sees it on their photo."""

    pk: int
    title: str
    words: str
    palette: tuple[Swatch, ...]
    share_cents: int | None
    problem: str
    is_on_photo: bool


@dataclass(frozen=True, kw_only=True)
class OptionOnPage(PieceShown):
    """`total_cents` is the whole quote's with this one in it, None while it has no price."""

    letter: str
    counts: bool
    total_cents: int | None
    more_text: str


@dataclass(frozen=True, kw_only=True)
class PieceOnPage(PieceShown):
    """`options`, from A on, where it has variants; itself is the one that counts."""

    options: tuple[OptionOnPage, ...]


def pieces_on_page(priced: PricedQuote, *, units: str) -> tuple[PieceOnPage, ...]:
    return tuple(_piece(piece, priced, units) for piece in priced.pieces)


def _piece(piece: PricedPiece, priced: PricedQuote, units: str) -> PieceOnPage:
    options = tuple(_options(piece, priced, units))
    return PieceOnPage(**_shown(piece, priced, units), options=options)


def _options(counting: PricedPiece, priced: PricedQuote, units: str) -> Iterator[OptionOnPage]:
    if counting.piece.choice is None:
        return
    beside = [one for one in priced.variants if one.piece.choice == counting.piece.choice]
    for one in sorted((counting, *beside), key=lambda one: one.piece.variant):
        total_cents = _total_cents(one, priced)
        yield OptionOnPage(
            **_shown(one, priced, units),
            letter=one.piece.variant_name,
            counts=one.piece.counts,
            total_cents=total_cents,
            more_text=_more_text(one.piece, total_cents, priced),
        )


def _shown(one: PricedPiece | PricedVariant, priced: PricedQuote, units: str) -> dict[str, object]:
    piece, made, catalogue = one.piece, one.estimate, priced.catalogue
    behind = PIECE_IS_BEHIND if piece.spec_is_behind else ""
    return {
        "pk": piece.pk,
        "title": piece.title,
        "words": piece_in_words(made.spec, units=units, catalogue=catalogue) if made else "",
        "palette": palette_of(made.spec, catalogue) if made else (),
        "share_cents": one.share_cents if made else None,
        "problem": one.problem or behind,
        "is_on_photo": traced_offer(piece) is not None,
    }


def _total_cents(one: PricedPiece | PricedVariant, priced: PricedQuote) -> int | None:
    if isinstance(one, PricedVariant):
        return one.total_cents
    return priced.price.total_cents if one.estimate else None


def _more_text(piece: Piece, total_cents: int | None, priced: PricedQuote) -> str:
    if piece.counts or total_cents is None:
        return ""
    return more_text(total_cents - priced.price.total_cents, priced.rates.currency)
