"""Pieces: added, typed, copied, taken out."""

from collections.abc import Mapping
from dataclasses import dataclass

from django.db import transaction
from django.db.models import Max

from quoting.estimator import Estimate, SpecError, spec_to_dict
from quoting.models import Piece, Quote
from quoting.pieces.copying import piece_copied
from quoting.pieces.defaults import FIRST_SHAPE, SHAPES
from quoting.pieces.form import Typed
from quoting.pieces.reading import Reading, Surroundings, read_piece
from quoting.pieces.specs import piece_spec
from quoting.pieces.variants import variants_settle
from quoting.quotes.touching import quote_touched

TITLE_LENGTH = Piece._meta.get_field("title").max_length


@dataclass(frozen=True, kw_only=True)
class Window:
    """The page in which a piece is typed, and how often it had been typed when it was shown.

    `serial` is the page's own count of what it sent: what it sent earlier may arrive later.
    """

    token: str
    seen_count: int
    serial: int = 0


@dataclass(frozen=True, kw_only=True)
class TypedResult:
    """`estimate` is of what was typed or, where that is not possible, of the spec before it."""

    piece: Piece
    reading: Reading
    estimate: Estimate | None
    was_changed_elsewhere: bool = False

    @property
    def is_behind(self) -> bool:
        return self.estimate is not None and not self.reading.is_possible


@transaction.atomic
def piece_add(*, quote: Quote, title: str = "", shape: str = FIRST_SHAPE) -> Piece:
    piece = Piece.objects.create(
        quote=quote,
        position=_next_position(quote),
        title=title or SHAPES[shape].label,
        typed={"shape": shape, **({"title": title} if title else {})},
    )
    quote_touched(quote)
    return piece


@transaction.atomic
def piece_type(
    *, piece: Piece, typed: Typed, surroundings: Surroundings, window: Window | None = None
) -> TypedResult:
    """Keeps what was typed, possible or not; the spec follows whenever it is possible.

    Of two windows the last to write wins, and is told that the other one had written.
    """
    typed = _without_nul(typed)
    reading = read_piece(typed, surroundings)
    quote = piece.quote
    piece = Piece.objects.select_for_update(no_key=True).get(pk=piece.pk)
    piece.quote = quote  # with its job and place, as they were fetched
    elsewhere = _is_changed_elsewhere(piece, window)
    if _is_overtaken(piece, window):
        return piece_read(piece=piece, surroundings=surroundings)
    if typed != piece.typed or (reading.spec and spec_to_dict(reading.spec) != piece.spec):
        _keep(piece, typed, reading, window)
        quote_touched(quote)
    return TypedResult(
        piece=piece,
        reading=reading,
        estimate=_shown_estimate(piece, reading, surroundings),
        was_changed_elsewhere=elsewhere,
    )


def piece_read(*, piece: Piece, surroundings: Surroundings) -> TypedResult:
    """The piece as it was typed last; nothing is written."""
    reading = read_piece(piece.typed, surroundings)
    shown = _shown_estimate(piece, reading, surroundings)
    return TypedResult(piece=piece, reading=reading, estimate=shown)


@transaction.atomic
def piece_delete(*, piece: Piece) -> None:
    quote, choice = piece.quote, piece.choice
    piece.delete()
    variants_settle(quote, choice)
    quote_touched(quote)


@transaction.atomic
def piece_duplicate(*, piece: Piece) -> Piece:
    title = f"{piece.title} (copy)"[:TITLE_LENGTH]
    copy = piece_copied(
        piece,
        position=_next_position(piece.quote),
        title=title,
        typed={**piece.typed, "title": title},
    )
    quote_touched(piece.quote)
    return copy


def _keep(piece: Piece, typed: Typed, reading: Reading, window: Window | None) -> None:
    piece.typed = dict(typed)
    piece.typed_count += 1
    piece.typed_in = window.token if window else ""
    piece.typed_serial = window.serial if window else 0
    piece.spec_is_behind = reading.spec is None
    if reading.spec:
        piece.spec = spec_to_dict(reading.spec)
        piece.title = reading.form.cleaned_data["title"] or reading.form.shape.label
    piece.save()


def _shown_estimate(piece: Piece, reading: Reading, surroundings: Surroundings) -> Estimate | None:
    if reading.estimate:
        return reading.estimate
    spec = piece_spec(piece)
    try:
        return surroundings.estimate(spec) if spec else None
    except SpecError:
        return None


def _is_changed_elsewhere(piece: Piece, window: Window | None) -> bool:
    if window is None or piece.typed_in in ("", window.token):
        return False
    return piece.typed_count > window.seen_count


def _is_overtaken(piece: Piece, window: Window | None) -> bool:
    """The same page sent something newer, which came first."""
    is_same = window is not None and window.token != "" and piece.typed_in == window.token
    return is_same and 0 < window.serial < piece.typed_serial


def _next_position(quote: Quote) -> int:
    last = quote.pieces.aggregate(last=Max("position"))["last"]
    return 0 if last is None else last + 1


def _without_nul(typed: Mapping[str, str | list[str]]) -> Typed:
    """PostgreSQL cannot hold NUL in text, and nobody can type it."""
    return {
        name.replace("\0", ""): [v.replace("\0", "") for v in value]
        if isinstance(value, list)
        else value.replace("\0", "")
        for name, value in typed.items()
    }
