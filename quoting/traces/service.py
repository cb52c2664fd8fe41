"""Paths traced on a photo: kept as a draft, taken over by the piece, drawn back, put away."""

from datetime import datetime

from django.db import transaction

from decor.models import JobPhoto
from quoting.models import Piece, TracedPhoto
from quoting.pieces.defaults import POINTS_FIELD
from quoting.pieces.reading import Surroundings
from quoting.pieces.service import piece_type
from quoting.quotes.touching import quote_touched
from quoting.traces.form import TraceForm
from quoting.traces.points_text import points_text
from quoting.traces.typed import Typed, typed_at_first

DRAPE = "drape"
ANOTHER_JOB = "This photo belongs to another job."


def trace_draft(*, piece: Piece, photo: JobPhoto) -> TracedPhoto | None:
    return piece.traced_photos.filter(photo=photo).first()


def trace_read(*, typed: Typed | None, photo: JobPhoto, units: str) -> TraceForm:
    """What was typed and tapped so far; before that, a door of the usual size."""
    photo_px = (photo.width_px, photo.height_px)
    form = TraceForm(typed or typed_at_first(units), units=units, photo_px=photo_px)
    form.full_clean()
    return form


@transaction.atomic
def trace_type(*, piece: Piece, photo: JobPhoto, typed: Typed) -> TracedPhoto:
    """Keeps the draft as it is, possible or not."""
    _refuse_another_job(piece, photo)
    traced, _ = TracedPhoto.objects.update_or_create(
        piece=piece, photo=photo, defaults={"typed": dict(typed)}
    )
    return traced


@transaction.atomic
def trace_keep(
    *, piece: Piece, photo: JobPhoto, typed: Typed, surroundings: Surroundings, now: datetime
) -> TraceForm:
    """Keeps the draft and, when nothing is wrong or missing, leads the piece along its path.

    What was typed for another shape stays in the piece, in case the owner goes back to it.
    """
    traced = trace_type(piece=piece, photo=photo, typed=typed)
    form = trace_read(typed=typed, photo=photo, units=surroundings.units)
    form.refuse_unfinished()
    if form.errors or form.plane is None or form.trace is None:
        return form
    quote = piece.quote
    piece = Piece.objects.select_for_update(no_key=True).get(pk=piece.pk)
    piece.quote = quote
    _put_away_all(piece)
    _take(traced, form, now)
    points = points_text(form.trace.points_m, units=surroundings.units)
    piece_type(
        piece=piece,
        typed={**piece.typed, "shape": DRAPE, POINTS_FIELD: points},
        surroundings=surroundings,
    )
    quote_touched(quote)  # the same path, but on another photo
    return form


@transaction.atomic
def trace_put_away(*, piece: Piece) -> None:
    """The garland is drawn on no photo. The piece keeps its path, and the photo its marks."""
    _put_away_all(piece)
    quote_touched(piece.quote)


def _take(traced: TracedPhoto, form: TraceForm, now: datetime) -> None:
    traced.known = form.known
    traced.known_m = list(form.plane.known_m)
    traced.marks_px = [list(mark) for mark in form.plane.marks_px]
    traced.taps_px = [list(tap) for tap in form.taps]
    traced.used_at = now
    traced.save()


def _put_away_all(piece: Piece) -> None:
    piece.traced_photos.filter(used_at__isnull=False).update(used_at=None, known="")


def _refuse_another_job(piece: Piece, photo: JobPhoto) -> None:
    if photo.job_id != piece.quote.job_id:
        raise ValueError(ANOTHER_JOB)
