"""A quote whose piece has variants: A as it was, B fuller, and C slim."""

from quoting.models import Piece, Quote
from quoting.pieces.variants import variant_add
from quoting.quotes.touching import quote_touched

WIDER = [[0.0, 0.5], [0.5, 0.9], [1.0, 0.5]]
SLIMMER = [[0.0, 0.35], [0.5, 0.5], [1.0, 0.35]]


def beside(piece: Piece, *, title: str, width: list[list[float]]) -> Piece:
    copy = variant_add(piece=piece)
    copy.title, copy.spec = title, {**copy.spec, "width": width}
    copy.save()
    quote_touched(copy.quote)
    return copy


def with_variants(quote: Quote, *, piece: Piece | None = None) -> tuple[Piece, Piece, Piece]:
    first = piece or quote.pieces.get()
    fuller = beside(first, title="Fuller", width=WIDER)
    return first, fuller, beside(first, title="Slim", width=SLIMMER)
