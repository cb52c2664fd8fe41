"""A piece once more: what was typed for it, its spec, and the photos its path was traced on."""

from typing import Any

from quoting.models import Piece


def piece_copied(piece: Piece, **changed: Any) -> Piece:
    fields = {
        "quote": piece.quote,
        "position": piece.position,
        "title": piece.title,
        "typed": piece.typed,
        "typed_count": piece.typed_count,
        "spec": piece.spec,
        "spec_is_behind": piece.spec_is_behind,
    }
    copy = Piece.objects.create(**{**fields, **changed})
    for traced in piece.traced_photos.all():
        traced.pk, traced.piece = None, copy
        traced.save(force_insert=True)
    return copy
