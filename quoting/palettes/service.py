"""A chosen palette becomes the colours of a piece."""

import secrets

from quoting.models import Piece
from quoting.palettes.choosing import Palette
from quoting.pieces.checks import order_names
from quoting.pieces.form import Typed
from quoting.pieces.reading import Surroundings
from quoting.pieces.service import TypedResult, Window, piece_type

_SHARE = "share_"


def palette_use(*, piece: Piece, palette: Palette, surroundings: Surroundings) -> TypedResult:
    """As if the owner had ticked them: a window that shows the piece is told it has changed."""
    window = Window(token=secrets.token_hex(8), seen_count=piece.typed_count)
    return piece_type(
        piece=piece,
        typed=typed_with(piece.typed, palette),
        surroundings=surroundings,
        window=window,
    )


def typed_with(typed: Typed, palette: Palette) -> Typed:
    """Only the palette changes; accents stay as they are unless it brings one."""
    kept = {
        name: value
        for name, value in typed.items()
        if name not in ("base", "colour_order") and not name.startswith(_SHARE)
    }
    kept["base"] = [part.balloon.key for part in palette.base]
    for part in palette.base:
        if part.percent is not None:
            kept[f"{_SHARE}{part.balloon.key}"] = str(part.percent)
    if palette.accent:
        kept["accents"] = [palette.accent.key]
    if order := _order_left(typed, palette):
        kept["colour_order"] = order
    return kept


def _order_left(typed: Typed, palette: Palette) -> str:
    """An order that names a colour no longer chosen would be refused."""
    chosen = {part.name.casefold() for part in palette.base}
    order = typed.get("colour_order", "")
    names = order_names(order) if isinstance(order, str) else []
    return ", ".join(name for name in names if name.casefold() in chosen)
