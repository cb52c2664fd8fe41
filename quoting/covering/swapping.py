"""Another colour in a colour's place, in the pieces that ask for what is missing."""

from datetime import date

from django.db import transaction

from decor.models import Business
from inventory.models import Item
from inventory.models.item import Kind
from quoting.models import Piece
from quoting.pieces.checks import order_names
from quoting.pieces.form import SEVERAL, Typed
from quoting.pieces.service import piece_type
from quoting.pieces.surroundings import surroundings_of

# Of each list of colours that has them, how its shares begin.
SHARES = {"base": "share_", "accents": "accent_share_"}
NOT_POSSIBLE = "“{piece}” cannot have {colour} in the place of {old}: change its colours by hand."


class SwapRefused(Exception):
    """Nothing was changed; the message says why."""


def can_swap(piece: Piece, *, old: Item, new: Item) -> bool:
    """It has the one, and not the other in the same place: their shares are hers to settle."""
    if old.kind == Kind.FOIL:
        return _burst(old) in piece.typed and not piece.typed.get(_burst(new))
    groups = [piece.typed.get(name, []) for name in SEVERAL]
    has_old = [group for group in groups if old.colour.key in group]
    return bool(has_old) and not any(new.colour.key in group for group in has_old)


@transaction.atomic
def colour_swap(
    *, pieces: list[Piece], old: Item, new: Item, business: Business, today: date
) -> None:
    """In all sizes, with the shares as they are. Raises SwapRefused."""
    for piece in pieces:
        typed = _swapped(piece.typed, old, new)
        surroundings = surroundings_of(piece.quote, business=business, today=today)
        is_possible = can_swap(piece, old=old, new=new) and (
            piece_type(piece=piece, typed=typed, surroundings=surroundings).reading.is_possible
        )
        if not is_possible:
            said = {"piece": piece.title, "colour": new.colour.name, "old": old.colour.name}
            raise SwapRefused(NOT_POSSIBLE.format(**said))


def _swapped(typed: Typed, old: Item, new: Item) -> Typed:
    before, after = old.colour.key, new.colour.key
    if old.kind == Kind.FOIL:
        return {(_burst(new) if name == _burst(old) else name): v for name, v in typed.items()}
    changed = dict(typed)
    for name in SEVERAL:
        if before not in typed.get(name, []):
            continue
        changed[name] = [after if key == before else key for key in typed[name]]
        if name in SHARES:
            share = changed.pop(f"{SHARES[name]}{before}", "")
            changed[f"{SHARES[name]}{after}"] = share
    if changed.get("colour_order"):
        names = order_names(changed["colour_order"])
        was = old.colour.name.casefold()
        changed["colour_order"] = ", ".join(
            new.colour.name if name.casefold() == was else name for name in names
        )
    return changed


def _burst(item: Item) -> str:
    return f"burst_{item.colour.key}"
