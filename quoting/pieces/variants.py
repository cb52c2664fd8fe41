"""Up to three variants of a piece, of which one counts. See quoting/models/piece.py."""

from django.db import transaction
from django.db.models import Max

from quoting.models import Piece, Quote
from quoting.models.piece import MOST_VARIANTS
from quoting.pieces.copying import piece_copied
from quoting.quotes.touching import quote_touched

ENOUGH = "There are three variants already. Take one out first."


class VariantRefused(ValueError):
    """The message says why."""


def variants_of(piece: Piece) -> list[Piece]:
    """All of them, the piece itself among them; it alone where it has none."""
    if piece.choice is None:
        return [piece]
    return list(Piece.objects.filter(quote_id=piece.quote_id, choice=piece.choice))


@transaction.atomic
def variant_add(*, piece: Piece) -> Piece:
    """A copy that does not count yet. Raises VariantRefused beyond the third."""
    quote = _locked(piece)
    if piece.choice is None:
        piece.choice = _next_choice(quote)
        piece.save(update_fields=["choice"])
    taken = {one.variant for one in variants_of(piece)}
    free = [place for place in range(1, MOST_VARIANTS + 1) if place not in taken]
    if not free:
        raise VariantRefused(ENOUGH)
    copy = piece_copied(piece, choice=piece.choice, variant=free[0], counts=False)
    quote_touched(quote)
    return copy


@transaction.atomic
def variant_choose(*, piece: Piece) -> None:
    """From now on this one counts, and the others do not."""
    quote = _locked(piece)
    others = Piece.objects.filter(quote=quote, choice=piece.choice).exclude(pk=piece.pk)
    if piece.choice is not None:
        others.update(counts=False)
    piece.counts = True
    piece.save(update_fields=["counts"])
    quote_touched(quote)


def variants_settle(quote: Quote, choice: int | None) -> None:
    """After one was taken out: the first counts if none does, and the last one left is plain."""
    left = list(Piece.objects.filter(quote=quote, choice=choice)) if choice is not None else []
    if not left:
        return
    if not any(piece.counts for piece in left):
        left[0].counts = True
        left[0].save(update_fields=["counts"])
    if len(left) == 1:
        left[0].choice, left[0].variant = None, 1
        left[0].save(update_fields=["choice", "variant"])


def _locked(piece: Piece) -> Quote:
    """The quote's row first: two windows cannot both make the third variant."""
    quote = piece.quote
    Quote.objects.select_for_update(no_key=True).get(pk=quote.pk)
    piece.refresh_from_db(fields=["choice", "variant", "counts", "typed", "spec"])
    return quote


def _next_choice(quote: Quote) -> int:
    return (quote.pieces.aggregate(last=Max("choice"))["last"] or 0) + 1
