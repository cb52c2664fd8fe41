from datetime import date

import pytest

from decor.models import Business
from quoting.estimator import spec_to_dict
from quoting.models import Piece
from quoting.models.quote import QuoteStage
from quoting.pieces.service import (
    Window,
    piece_add,
    piece_delete,
    piece_duplicate,
    piece_read,
    piece_type,
)
from quoting.pieces.specs import piece_spec
from quoting.pieces.surroundings import surroundings_of
from quoting.quotes.service import quote_send

HERE, THERE = "window-here", "window-there"
GOOD = {"shape": "walk_arch", "base": ["oat", "fern"]}


@pytest.fixture
def around(piece: Piece, business: Business, today: date):
    return surroundings_of(piece.quote, business=business, today=today)


def test_a_new_piece_has_its_shape_and_no_spec_yet(piece):
    assert piece.title == "Walk-through arch"
    assert piece.typed == {"shape": "walk_arch"}
    assert piece_spec(piece) is None


def test_what_is_possible_becomes_the_spec(piece, around):
    result = piece_type(piece=piece, typed=GOOD, surroundings=around)
    kept = Piece.objects.get(pk=piece.pk)
    assert kept.typed == GOOD
    assert piece_spec(kept) == result.reading.spec
    assert not kept.spec_is_behind


def test_what_is_not_possible_is_kept_and_the_spec_stays_behind(piece, around):
    before = piece_type(piece=piece, typed=GOOD, surroundings=around)
    wrong = {**GOOD, "arch_width": "wide"}
    result = piece_type(piece=piece, typed=wrong, surroundings=around)
    kept = Piece.objects.get(pk=piece.pk)
    assert kept.typed == wrong
    assert kept.spec == spec_to_dict(before.reading.spec)
    assert kept.spec_is_behind
    assert result.is_behind
    assert result.estimate.price == before.estimate.price


def test_reading_a_piece_again_gives_what_was_typed_and_writes_nothing(piece, around):
    piece_type(piece=piece, typed={**GOOD, "gust": "gale"}, surroundings=around)
    kept = Piece.objects.get(pk=piece.pk)
    result = piece_read(piece=kept, surroundings=around)
    assert result.reading.form["gust"].value() == "gale"
    assert Piece.objects.get(pk=piece.pk).changed_at == kept.changed_at


def test_typing_the_same_again_changes_nothing(piece, around):
    piece_type(piece=piece, typed=GOOD, surroundings=around)
    first = Piece.objects.get(pk=piece.pk)
    piece_type(piece=first, typed=GOOD, surroundings=around)
    assert Piece.objects.get(pk=piece.pk).typed_count == first.typed_count == 1


def test_a_name_that_is_typed_becomes_the_title_and_none_the_shape(piece, around):
    piece_type(piece=piece, typed={**GOOD, "title": "Porch arch"}, surroundings=around)
    assert Piece.objects.get(pk=piece.pk).title == "Porch arch"
    piece_type(piece=piece, typed={**GOOD, "title": ""}, surroundings=around)
    assert Piece.objects.get(pk=piece.pk).title == "Walk-through arch"


def test_the_last_window_to_write_wins_and_is_told_of_the_other(piece, around):
    seen = piece.typed_count
    here, there = Window(token=HERE, seen_count=seen), Window(token=THERE, seen_count=seen)
    first = piece_type(piece=piece, typed=GOOD, surroundings=around, window=here)
    assert not first.was_changed_elsewhere
    other = {**GOOD, "fullness": "lush"}
    second = piece_type(piece=piece, typed=other, surroundings=around, window=there)
    assert second.was_changed_elsewhere
    assert Piece.objects.get(pk=piece.pk).typed == other


def test_a_window_whose_answer_was_lost_is_not_told_of_itself(piece, around):
    """A newer change replaces a request on its way, but the server may have kept the older one."""
    lost = Window(token=HERE, seen_count=piece.typed_count)
    piece_type(piece=piece, typed=GOOD, surroundings=around, window=lost)
    again = piece_type(
        piece=piece, typed={**GOOD, "fullness": "slim"}, surroundings=around, window=lost
    )
    assert not again.was_changed_elsewhere


def test_a_window_opened_after_the_change_is_not_told(piece, around):
    piece_type(
        piece=piece, typed=GOOD, surroundings=around, window=Window(token=HERE, seen_count=0)
    )
    later = Window(token=THERE, seen_count=1)
    result = piece_type(piece=piece, typed={**GOOD, "crew": "2"}, surroundings=around, window=later)
    assert not result.was_changed_elsewhere


def test_a_copy_stands_after_the_others_and_changes_by_itself(piece, around):
    piece_type(piece=piece, typed=GOOD, surroundings=around)
    piece.refresh_from_db()
    copy = piece_duplicate(piece=piece)
    assert copy.title == "Walk-through arch (copy)"
    assert copy.position > piece.position
    assert piece_spec(copy) == piece_spec(piece)
    piece_type(piece=copy, typed={"base": ["plum"]}, surroundings=around)
    assert Piece.objects.get(pk=piece.pk).typed == GOOD


def test_pieces_are_added_in_order(piece):
    second = piece_add(quote=piece.quote, shape="table_line")
    third = piece_add(quote=piece.quote, title="Gate", shape="entrance_posts")
    assert list(piece.quote.pieces.all()) == [piece, second, third]
    assert third.title == "Gate"


def test_a_piece_taken_out_is_gone(piece):
    piece_delete(piece=piece)
    assert not Piece.objects.exists()


def test_any_change_to_a_piece_shows_on_a_quote_that_was_sent(piece, around, owner, today):
    from datetime import UTC, datetime

    piece_type(piece=piece, typed=GOOD, surroundings=around)
    quote = piece.quote
    quote_send(quote=quote, by=owner, now=datetime(2026, 6, 13, 12, tzinfo=UTC))
    quote.refresh_from_db()
    assert quote.stage == QuoteStage.SENT
    piece.refresh_from_db()
    piece.quote = quote
    piece_type(piece=piece, typed={**GOOD, "fullness": "lush"}, surroundings=around)
    quote.refresh_from_db()
    assert quote.stage == QuoteStage.CHANGED


def test_a_spec_from_wider_limits_is_no_spec_rather_than_a_broken_page(piece):
    piece.spec = {"version": 1, "path": {"kind": "line", "length_m": 5000}}
    assert piece_spec(piece) is None


def test_an_archived_colour_stays_in_the_pieces_that_have_it(piece, around, business, today):
    from datetime import UTC, datetime

    from inventory.catalogue.service import colour_archive
    from inventory.models import Colour

    piece_type(piece=piece, typed=GOOD, surroundings=around)
    now = datetime(2026, 6, 13, 12, tzinfo=UTC)
    for key in ("fern", "plum"):
        colour_archive(colour=Colour.objects.get(key=key), now=now)
    again = surroundings_of(piece.quote, business=business, today=today)
    result = piece_type(piece=piece, typed={**GOOD, "crew": "2"}, surroundings=again)
    assert result.reading.is_possible
    offered = {colour.key for colour in result.reading.form.shelf.latex}
    assert "fern" in offered
    assert "plum" not in offered


def test_of_two_changes_that_cross_the_newer_stays(piece, around):
    """A page sends its changes one after the other; on a bad line the first may arrive last."""
    newer, older = (Window(token=HERE, seen_count=0, serial=serial) for serial in (2, 1))
    typed = {**GOOD, "fullness": "lush"}
    piece_type(piece=piece, typed=typed, surroundings=around, window=newer)
    late = piece_type(
        piece=piece, typed={**GOOD, "fullness": "l"}, surroundings=around, window=older
    )
    assert Piece.objects.get(pk=piece.pk).typed == typed
    assert late.reading.form.data["fullness"] == "lush"


def test_a_newly_opened_page_counts_from_one_again(piece, around):
    before = Window(token=HERE, seen_count=0, serial=40)
    piece_type(piece=piece, typed=GOOD, surroundings=around, window=before)
    other = {**GOOD, "crew": "2"}
    opened = Window(token=THERE, seen_count=1, serial=1)
    piece_type(piece=piece, typed=other, surroundings=around, window=opened)
    assert Piece.objects.get(pk=piece.pk).typed == other
