"""A kept trace as metres again: its plane, its path, and whether the piece still goes that way."""

from collections.abc import Sequence
from dataclasses import dataclass

from quoting.estimator.tracing import (
    Plane,
    Trace,
    TraceError,
    plane_from_length,
    plane_from_rectangle,
    trace,
)
from quoting.models import Piece, TracedPhoto
from quoting.models.traced_photo import Known
from quoting.pieces.specs import piece_spec
from quoting.traces.points_text import follows

Pairs = Sequence[Sequence[float]]


@dataclass(frozen=True, kw_only=True)
class TracedPath:
    """A trace that a piece took, as metres again. `is_current`: the piece still goes this way."""

    plane: Plane
    trace: Trace
    is_current: bool


def trace_of(piece: Piece) -> TracedPhoto | None:
    """The photo whose path the piece took last, whether or not it was changed by hand since."""
    return piece.traced_photos.select_related("photo").filter(used_at__isnull=False).first()


def path_of(traced: TracedPhoto, piece: Piece) -> TracedPath | None:
    """None for a draft, and for marks that today's limits refuse."""
    if traced.used_at is None:
        return None
    photo = traced.photo
    try:
        plane = plane_of(
            known=traced.known,
            known_m=traced.known_m,
            marks_px=traced.marks_px,
            photo_px=(photo.width_px, photo.height_px),
        )
        found = trace(plane, _points(traced.taps_px))
    except TraceError:
        return None
    is_current = follows(piece_spec(piece), found.points_m) and not piece.spec_is_behind
    return TracedPath(plane=plane, trace=found, is_current=is_current)


def plane_of(
    *, known: str, known_m: Sequence[float], marks_px: Pairs, photo_px: tuple[int, int]
) -> Plane:
    """From marks as they are kept. Raises TraceError for those that today's limits refuse."""
    marks = _points(marks_px)
    if known == Known.LENGTH:
        return plane_from_length(marks, length_m=known_m[0], photo_px=photo_px)
    width, height = known_m
    return plane_from_rectangle(marks, width_m=width, height_m=height, photo_px=photo_px)


def _points(pairs: Pairs) -> list[tuple[float, float]]:
    return [(across, down) for across, down in pairs]
