"""The garland on the client's own photo: that photo and no other, as it was when it was sent."""

from datetime import UTC, date, datetime
from io import BytesIO

import pytest
from django.core.files.storage import default_storage
from PIL import Image

from decor.documents.fetcher import FetchRefused
from quoting.models import Piece
from quoting.pieces.variants import variant_add
from quoting.quotes.editions import draft_of
from quoting.traces.service import trace_keep, trace_put_away
from tests.quoting.documents.reading import parts_of, structure_of, words_of
from tests.quoting.traces.conftest import (  # noqa: F401
    PHOTO_PX,
    marked,
    photo,
    piece,
    surroundings,
)

NOW = datetime(2026, 6, 13, 12, 0, tzinfo=UTC)


@pytest.fixture
def traced(piece, photo, surroundings) -> Piece:  # noqa: F811
    trace_keep(piece=piece, photo=photo, typed=marked(), surroundings=surroundings, now=NOW)
    piece.refresh_from_db()
    return piece


def test_the_piece_is_drawn_on_the_photo(traced: Piece, today: date, pdf_of) -> None:
    pdf = pdf_of(draft_of(traced.quote, today=today))

    images = {image.name for page in parts_of(pdf).pages for image in page.images}
    assert len(images) == 1
    assert "Drawn to scale on your photo of the place." in words_of(pdf)
    alts = [str(element.get("/Alt", "")) for element in structure_of(pdf)]
    assert any("drawn on your photo of the place" in alt for alt in alts)


def test_the_photo_is_no_finer_than_paper_shows(traced: Piece, today: date, pdf_of) -> None:
    """200 pixels an inch over at most 158 mm, and one of rounding."""
    (image,) = parts_of(pdf_of(draft_of(traced.quote, today=today))).pages[0].images

    assert image.image.width <= 158 / 25.4 * 200 + 1
    assert image.image.width < PHOTO_PX[0]


def test_its_bytes_are_frozen_by_their_fingerprint(
    traced: Piece,
    photo,  # noqa: F811
    today: date,
    pdf_of,
) -> None:
    draft = draft_of(traced.quote, today=today)
    name = photo.image.name
    assert set(draft.inputs["photos"]) == {name}

    other = BytesIO()
    Image.new("RGB", PHOTO_PX, "#8fae9b").save(other, "JPEG")
    with default_storage.open(name, "wb") as file:
        file.write(other.getvalue())

    with pytest.raises(FetchRefused):
        pdf_of(draft)
    assert draft_of(traced.quote, today=today).inputs["photos"] != draft.inputs["photos"]


def test_a_lost_photo_leaves_the_picture(
    traced: Piece,
    photo,  # noqa: F811
    today: date,
    pdf_of,
) -> None:
    default_storage.delete(photo.image.name)

    draft = draft_of(traced.quote, today=today)

    assert draft.inputs["photos"] == {}
    assert "To scale, from the front." in words_of(pdf_of(draft))


def test_a_path_changed_by_hand_is_not_drawn_on_the_photo(traced: Piece, today: date) -> None:
    traced.spec = {**traced.spec, "path": {"kind": "ring", "diameter_m": 2.0}}
    traced.save()

    assert "traced" not in draft_of(traced.quote, today=today).inputs["offer"]["pieces"][0]


def test_taking_the_photo_away_is_a_change_of_the_quote(traced: Piece, today: date) -> None:
    before = draft_of(traced.quote, today=today)
    trace_put_away(piece=traced)

    after = draft_of(traced.quote, today=today)

    assert "traced" in before.inputs["offer"]["pieces"][0]
    assert after.inputs["offer"] != before.inputs["offer"]


def test_variants_on_the_photo_stand_side_by_side(traced: Piece, today: date, pdf_of) -> None:
    fuller = variant_add(piece=traced)
    fuller.spec = {**fuller.spec, "width": [[0, 0.5], [1, 0.9]]}
    fuller.save()

    pdf = pdf_of(draft_of(traced.quote, today=today))

    alts = [str(element.get("/Alt", "")) for element in structure_of(pdf)]
    assert sum("drawn on your photo of the place" in alt for alt in alts) == 2
