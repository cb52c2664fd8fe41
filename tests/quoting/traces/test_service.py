from datetime import UTC, datetime, timedelta

import pytest
from django.db import IntegrityError, transaction

from decor.jobs.photos import photo_remove
from quoting.models import TracedPhoto
from quoting.models.quote import QuoteStage
from quoting.pieces.service import piece_type
from quoting.pieces.specs import piece_spec
from quoting.quotes.service import quote_send
from quoting.traces.paths import path_of, trace_of
from quoting.traces.service import (
    trace_draft,
    trace_keep,
    trace_put_away,
    trace_read,
    trace_type,
)
from tests.factories import PieceFactory, UserFactory
from tests.quoting.traces.conftest import PATH_M, marked, photo_of

NOW = datetime(2026, 6, 13, 12, 0, tzinfo=UTC)
LATER = datetime(2026, 6, 14, 12, 0, tzinfo=UTC)


@pytest.fixture
def kept(piece, photo, surroundings):
    """The trace that the piece took."""
    form = trace_keep(piece=piece, photo=photo, typed=marked(), surroundings=surroundings, now=NOW)
    assert not form.errors
    piece.refresh_from_db()
    return trace_of(piece)


def test_a_kept_trace_leads_the_piece_along_its_path(piece, kept):
    assert piece.typed["shape"] == "drape"
    assert piece.typed["arch_width"] == "9 ft"  # for when the owner goes back to it
    points = piece_spec(piece).path.points_m
    # A tenth of an inch is 2.5 mm, a tenth of a pixel some 0.5 mm.
    assert [(x, up) for x, _, up in points] == [pytest.approx(at, abs=0.006) for at in PATH_M]
    assert kept.used_at == NOW
    assert path_of(kept, piece).is_current


def test_the_trace_is_finer_than_the_text_of_the_points(piece, kept):
    found = path_of(kept, piece).trace
    assert [(x, up) for x, _, up in found.points_m] == [
        pytest.approx(at, abs=0.004) for at in PATH_M
    ]


def test_points_changed_by_hand_make_the_trace_out_of_date_and_changed_back_current(
    piece, kept, surroundings
):
    was = piece.typed
    moved = {**was, "drape_points": was["drape_points"] + "\n9 ft, 3 ft"}
    piece = piece_type(piece=piece, typed=moved, surroundings=surroundings).piece
    assert not path_of(kept, piece).is_current
    piece = piece_type(piece=piece, typed=was, surroundings=surroundings).piece
    assert path_of(kept, piece).is_current


@pytest.mark.parametrize("typed", [{"shape": "walk_arch"}, {"drape_points": "one, two"}])
def test_another_shape_or_points_that_cannot_be_read_make_it_out_of_date(
    piece, kept, surroundings, typed
):
    piece = piece_type(piece=piece, typed={**piece.typed, **typed}, surroundings=surroundings).piece
    assert not path_of(kept, piece).is_current


def test_a_trace_that_is_wrong_is_kept_as_a_draft_and_leaves_the_piece_alone(
    piece, photo, surroundings
):
    typed = marked(corner_1_x="5000")
    form = trace_keep(piece=piece, photo=photo, typed=typed, surroundings=surroundings, now=NOW)
    assert "corner_1_x" in form.errors
    piece.refresh_from_db()
    assert piece.typed["shape"] == "walk_arch"
    assert trace_of(piece) is None
    assert trace_draft(piece=piece, photo=photo).typed == typed


def test_a_draft_changes_nothing_of_what_the_piece_took(piece, photo, kept):
    trace_type(piece=piece, photo=photo, typed={"known": "length"})
    kept.refresh_from_db()
    assert kept.typed == {"known": "length"}
    assert path_of(kept, piece).is_current


def test_of_two_photos_the_last_one_used_counts_and_no_marks_are_lost(
    piece, photo, kept, surroundings
):
    other = photo_of(piece)
    trace_keep(piece=piece, photo=other, typed=marked(), surroundings=surroundings, now=LATER)
    assert trace_of(piece).photo == other
    assert path_of(trace_draft(piece=piece, photo=photo), piece) is None
    assert trace_draft(piece=piece, photo=photo).typed == marked()


def test_put_away_it_can_be_used_again(piece, photo, kept, surroundings):
    trace_put_away(piece=piece)
    assert trace_of(piece) is None
    draft = trace_draft(piece=piece, photo=photo)
    again = trace_keep(
        piece=piece, photo=photo, typed=draft.typed, surroundings=surroundings, now=LATER
    )
    assert not again.errors
    assert trace_of(piece) == draft


def test_a_sent_quote_is_changed_by_another_path_another_photo_and_none(piece, photo, surroundings):
    quote, by = piece.quote, UserFactory()

    def stage() -> str:
        quote.refresh_from_db()
        return quote.stage

    for at, shown in enumerate((photo, photo_of(piece))):
        quote_send(quote=quote, by=by, now=NOW + timedelta(hours=at))
        assert stage() == QuoteStage.SENT
        trace_keep(piece=piece, photo=shown, typed=marked(), surroundings=surroundings, now=NOW)
        assert stage() == QuoteStage.CHANGED
    quote_send(quote=quote, by=by, now=LATER)
    trace_put_away(piece=piece)
    assert stage() == QuoteStage.CHANGED


def test_with_the_photo_goes_the_trace_but_not_the_path(piece, photo, kept):
    photo_remove(photo)
    assert trace_of(piece) is None
    piece.refresh_from_db()
    assert piece.typed["shape"] == "drape"


def test_a_photo_of_another_job_is_refused(piece, surroundings):
    strange = photo_of(PieceFactory())
    with pytest.raises(ValueError, match="another job"):
        trace_type(piece=piece, photo=strange, typed={})


def test_marks_that_are_refused_today_are_no_path(piece, kept):
    kept.marks_px = [[0, 0], [1, 0], [2, 0], [3, 0]]
    kept.save()
    assert path_of(kept, piece) is None


def test_a_fresh_photo_begins_with_a_door(photo, business):
    form = trace_read(typed=None, photo=photo, units=business.units)
    assert form["width"].value() == "3 ft"
    assert not form.errors


def test_a_piece_follows_one_photo_and_a_photo_is_traced_once_a_piece(piece, photo, kept):
    with pytest.raises(IntegrityError), transaction.atomic():
        TracedPhoto.objects.create(piece=piece, photo=photo)
    with pytest.raises(IntegrityError), transaction.atomic():
        TracedPhoto.objects.create(
            piece=piece, photo=photo_of(piece), known="rectangle", used_at=NOW
        )
    with pytest.raises(IntegrityError), transaction.atomic():
        TracedPhoto.objects.create(piece=piece, photo=photo_of(piece), used_at=NOW)
