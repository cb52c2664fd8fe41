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

Asked = tuple[Key, Fraction, str]
"""Something of the shelf, how much of it, and its unit."""


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
    """Of each piece the variant that counts. One query."""
    asked = ((piece.piece, line) for piece in priced.pieces for line in _asked_for(piece.estimate))
    unknown = tuple(piece.piece for piece in priced.pieces if piece.estimate is None)
    return demand_of(asked, unknown_pieces=unknown)


def demand_of(
    asked: Iterable[tuple[Piece, Asked]], *, unknown_pieces: tuple[Piece, ...] = ()
) -> Demand:
    """Parts of a metre are rounded up at the end, so that ten short ribbons are not ten metres."""
    amounts: dict[Key, Fraction] = defaultdict(Fraction)
    pieces: dict[Key, list[Piece]] = defaultdict(list)
    units: dict[Key, str] = {}
    for piece, (key, amount, unit) in asked:
        amounts[key] += amount
        units[key] = unit
        if piece not in pieces[key]:
            pieces[key].append(piece)
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
        unknown_pieces=unknown_pieces,
    )


def _asked_for(estimate: Estimate | None) -> Iterator[Asked]:
    if estimate is None:
        return
    for line in estimate.balloons:
        yield balloons_asked(line.kind, line.colour, line.nominal_in, line.total)
    for sundry in estimate.sundries:
        yield sundry_asked(sundry.item, sundry.quantity, sundry.unit)


def balloons_asked(kind: str, colour: str, nominal_in: float | None, total: int) -> Asked:
    size = None if nominal_in is None else round(nominal_in)
    return (kind, colour, size), Fraction(total), "each"


def sundry_asked(item: str, quantity: float, unit: str) -> Asked:
    """As it is written, so that thirds of a metre do not become a hair more than a metre."""
    return (Kind.SUNDRY, item, None), Fraction(str(quantity)), unit


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
