"""Variants of a piece side by side: pictures, prices, and what differs."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from decor.display import hours_text, money_text
from decor.models import Business
from quoting.estimator import Estimate, spec_to_dict
from quoting.estimator.comparing import compare
from quoting.estimator.saying import Measure, Quantity, say
from quoting.models import Piece
from quoting.models.piece import MOST_VARIANTS
from quoting.pieces.shelf import Shelf, shelf_of
from quoting.pieces.variants import variants_of
from quoting.pieces.words import Swatch, palette_of, piece_in_words
from quoting.quotes.pricing import PricedPiece, PricedQuote, PricedVariant, quote_priced
from quoting.quotes.spec_facts import spec_facts

# The page says the quote's total of each, and by its colour how many starbursts.
_SAID_ABOVE: Final = ("total", "cost", "starbursts")


@dataclass(frozen=True, kw_only=True)
class VariantColumn:
    """`total_cents` is the whole quote's with this variant in it."""

    piece: Piece
    words: str
    palette: tuple[Swatch, ...]
    total_cents: int | None
    difference: str
    problem: str


@dataclass(frozen=True)
class ComparedRow:
    label: str
    values: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class VariantsPage:
    columns: tuple[VariantColumn, ...]
    rows: tuple[ComparedRow, ...]
    is_alone: bool

    @property
    def has_several(self) -> bool:
        return len(self.columns) > 1

    @property
    def is_full(self) -> bool:
        return len(self.columns) == MOST_VARIANTS


def variants_page(piece: Piece, *, business: Business, today: date) -> VariantsPage:
    priced = quote_priced(piece.quote, today=today)
    pks = [one.pk for one in variants_of(piece)]
    found = {one.piece.pk: one for one in (*priced.pieces, *priced.variants)}
    shown = [found[pk] for pk in pks]
    counting = priced.price.total_cents
    columns = tuple(_column(one, priced, counting, business) for one in shown)
    made = [one.estimate for one in shown if one.estimate]
    return VariantsPage(
        columns=columns,
        rows=tuple(_rows(made, business)) if len(made) == len(shown) > 1 else (),
        is_alone=len(priced.pieces) == 1 and not priced.extra_lines,
    )


def _column(
    one: PricedPiece | PricedVariant, priced: PricedQuote, counting: int, business: Business
) -> VariantColumn:
    total = one.total_cents if isinstance(one, PricedVariant) else counting
    made, catalogue = one.estimate, priced.catalogue
    words = piece_in_words(made.spec, units=business.units, catalogue=catalogue) if made else ""
    return VariantColumn(
        piece=one.piece,
        words=words,
        palette=palette_of(made.spec, catalogue) if made else (),
        total_cents=total if made else None,
        difference=_difference(one, total, counting, priced) if made else "",
        problem=one.problem,
    )


def _difference(
    one: PricedPiece | PricedVariant, total: int | None, counting: int, priced: PricedQuote
) -> str:
    if one.piece.counts or total is None:
        return ""
    if total == counting:
        return "the same price"
    amount = money_text(abs(total - counting), priced.rates.currency)
    return f"{amount} {'more' if total > counting else 'less'}"


def _rows(made: Sequence[Estimate], business: Business) -> Iterator[ComparedRow]:
    """Only what differs: first what they look like, then what they take."""
    yield from _looks(made, business)
    for row in compare(made):
        if not row.differs or row.key in _SAID_ABOVE:
            continue
        values = tuple(_said(value, business.units) for value in row.values)
        if len(set(values)) > 1:
            yield ComparedRow(row.label.capitalize(), values)


def _said(quantity: Quantity, units: str) -> str:
    if quantity.measure is Measure.HOURS:
        return hours_text(quantity.value)
    return say(quantity, units)


def _looks(made: Sequence[Estimate], business: Business) -> Iterator[ComparedRow]:
    names = _colour_names(shelf_of(made[0].catalogue))
    facts = [
        spec_facts(spec_to_dict(est.spec), units=business.units, colour_name=names) for est in made
    ]
    for name in dict.fromkeys(name for one in facts for name in one):
        values = tuple(one.get(name, "none") for one in facts)
        if len(set(values)) > 1 and name in _LOOKS:
            yield ComparedRow(_LOOKS[name], values)


_LOOKS: Final = {
    "shape": "Shape",
    "colours": "Colours",
    "pattern of colours": "Order of the colours",
    "sizes": "Balloon sizes",
    "accents": "Accents",
    "starbursts": "Starbursts",
}


def _colour_names(shelf: Shelf) -> Callable[[str], str]:
    known = {colour.key: colour.name.lower() for colour in (*shelf.foil, *shelf.latex)}
    return lambda key: known.get(key, key)
