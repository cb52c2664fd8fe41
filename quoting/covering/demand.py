"""What a quote takes of the shelf: its recipe, spares in, as one demand by item."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from inventory.models import Item
from inventory.models.item import Kind
from quoting.estimator import Estimate
from quoting.models import Piece
from quoting.quotes.pricing import PricedQuote

Key = tuple[str, str, int | None]
"""Kind, colour's key or sundry's name, nominal size."""


@dataclass(frozen=True, kw_only=True)
class NoItem:
    """Something the recipe asks for that nothing in the catalogue stands for."""

    name: str
    quantity: int
    unit: str


@dataclass(frozen=True, kw_only=True)
class Demand:
    """`unknown_pieces` have no recipe yet: what they take is not in it."""

    quantities: Mapping[int, int]
    items: Mapping[int, Item]
    pieces: Mapping[int, tuple[Piece, ...]]
    no_items: tuple[NoItem, ...]
    unknown_pieces: tuple[Piece, ...]

    @property
    def is_empty(self) -> bool:
        return not self.quantities and not self.no_items and not self.unknown_pieces


def quote_demand(priced: PricedQuote) -> Demand:
    """Of each piece the variant that counts. One query. Parts of a metre are rounded up at the
    end, so that ten short ribbons are not ten metres."""
    amounts: dict[Key, Fraction] = defaultdict(Fraction)
    pieces: dict[Key, list[Piece]] = defaultdict(list)
    units: dict[Key, str] = {}
    for priced_piece in priced.pieces:
        for key, amount, unit in _asked_for(priced_piece.estimate):
            amounts[key] += amount
            units[key] = unit
            if priced_piece.piece not in pieces[key]:
                pieces[key].append(priced_piece.piece)
    by_key = _items_by_key()
    known = {by_key[key].pk: key for key in amounts if key in by_key}
    return Demand(
        quantities={pk: ceil(amounts[key]) for pk, key in known.items()},
        items={pk: by_key[key] for pk, key in known.items()},
        pieces={pk: tuple(pieces[key]) for pk, key in known.items()},
        no_items=tuple(
            NoItem(name=_name(key), quantity=ceil(amounts[key]), unit=units[key])
            for key in amounts
            if key not in by_key
        ),
        unknown_pieces=tuple(p.piece for p in priced.pieces if p.estimate is None),
    )


def _asked_for(estimate: Estimate | None) -> Iterator[tuple[Key, Fraction, str]]:
    if estimate is None:
        return
    for line in estimate.balloons:
        size = None if line.nominal_in is None else round(line.nominal_in)
        yield (line.kind, line.colour, size), Fraction(line.total), "each"
    for sundry in estimate.sundries:
        # As it is written, so that thirds of a metre do not become a hair more than a metre.
        yield (Kind.SUNDRY, sundry.item, None), Fraction(str(sundry.quantity)), sundry.unit


def _items_by_key() -> dict[Key, Item]:
    items: Iterable[Item] = Item.objects.select_related("colour")
    return {
        (item.kind, item.colour.key if item.colour else item.name, item.nominal_in): item
        for item in items
        if item.kind != Kind.SUNDRY or not item.is_archived
    }


def _name(key: Key) -> str:
    kind, name, size = key
    if kind == Kind.FOIL:
        return f"{name} starburst points"
    return f"{name} {size}-inch" if size else name
