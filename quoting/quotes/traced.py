"""The client's own photo on which a piece's path was traced, as an offer keeps it."""

import hashlib
from typing import Any

from django.core.files.storage import default_storage
from django.db.models import prefetch_related_objects

from quoting.models import Piece, TracedPhoto
from quoting.traces.paths import path_of

TRACES = "traced_photos__photo"


def fetch_traces(pieces: list[Piece]) -> None:
    """For all of them at once; nothing is asked where they were prefetched with TRACES."""
    prefetch_related_objects(pieces, TRACES)


def traced_offer(piece: Piece) -> dict[str, Any] | None:
    """None where there is no photo, or the piece no longer goes the way that was traced on it."""
    traced = next((one for one in piece.traced_photos.all() if one.used_at), None)
    path = path_of(traced, piece) if traced else None
    return _marks(traced) if path and path.is_current else None


def photo_hashes(offer: dict[str, Any]) -> dict[str, str]:
    """SHA-256 by name, of every photo in the offer that is still kept."""
    pieces = (*offer["pieces"], *offer.get("variants", ()))
    names = sorted({piece["traced"]["photo"] for piece in pieces if "traced" in piece})
    return {name: _sha256(name) for name in names if default_storage.exists(name)}


def _marks(traced: TracedPhoto) -> dict[str, Any]:
    photo = traced.photo
    return {
        "photo": photo.image.name,
        "photo_px": [photo.width_px, photo.height_px],
        "known": traced.known,
        "known_m": traced.known_m,
        "marks_px": traced.marks_px,
    }


def _sha256(name: str) -> str:
    with default_storage.open(name) as file:
        return hashlib.file_digest(file, "sha256").hexdigest()
