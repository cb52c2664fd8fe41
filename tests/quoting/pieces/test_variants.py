import pytest
from django.db import IntegrityError, transaction
from django.urls import reverse

from quoting.models import Piece
from quoting.pieces.service import piece_add, piece_delete, piece_type
from quoting.pieces.surroundings import surroundings_of
from quoting.pieces.variants import (
    ENOUGH,
    VariantRefused,
    variant_add,
    variant_choose,
    variants_of,
)
from quoting.pieces.variants_page import variants_page
from quoting.quotes.pricing import quote_priced

GOOD = {"shape": "walk_arch", "base": ["oat", "fern"]}


@pytest.fixture
def around(piece, business, today):
    return surroundings_of(piece.quote, business=business, today=today)


@pytest.fixture
def first(piece, around):
    return piece_type(piece=piece, typed=GOOD, surroundings=around).piece


@pytest.fixture
def three(first, around):
    """A as it was, B lush, C slim with starbursts."""
    second, third = variant_add(piece=first), variant_add(piece=first)
    piece_type(piece=second, typed={**GOOD, "fullness": "lush"}, surroundings=around)
    slim = {**GOOD, "fullness": "slim", "burst_copper": "2"}
    piece_type(piece=third, typed=slim, surroundings=around)
    return variants_of(first)


def names(pieces):
    return [(piece.variant_name, piece.counts) for piece in pieces]


def test_a_variant_is_a_copy_that_does_not_count_yet(first):
    copy = variant_add(piece=first)
    assert (copy.typed, copy.spec, copy.title) == (first.typed, first.spec, first.title)
    assert names(variants_of(first)) == [("A", True), ("B", False)]


def test_the_total_has_the_one_that_counts_and_no_other(three, today):
    quote = three[0].quote
    alone = quote_priced(quote, today=today)
    assert [piece.piece for piece in alone.pieces] == [three[0]]
    totals = {one.piece.variant_name: one.total_cents for one in alone.variants}
    for piece in three[1:]:
        piece.refresh_from_db()
        variant_choose(piece=piece)
        chosen = quote_priced(quote, today=today)
        assert chosen.price.total_cents == totals[piece.variant_name]
    assert totals["C"] < alone.price.total_cents < totals["B"]


def test_a_fourth_is_refused(three):
    with pytest.raises(VariantRefused, match=ENOUGH):
        variant_add(piece=three[0])
    assert Piece.objects.count() == 3


def test_the_place_of_one_taken_out_is_taken_by_the_next(three):
    piece_delete(piece=three[1])
    assert variant_add(piece=three[0]).variant_name == "B"


def test_when_the_one_that_counts_is_taken_out_the_first_left_counts(three):
    piece_delete(piece=three[0])
    assert names(variants_of(three[1])) == [("B", True), ("C", False)]


def test_the_last_one_left_is_a_plain_piece_again(three, today):
    for piece in three[:2]:
        piece_delete(piece=Piece.objects.get(pk=piece.pk))
    left = Piece.objects.get()
    assert (left.choice, left.variant, left.counts, left.variant_name) == (None, 1, True, "")
    assert len(quote_priced(left.quote, today=today).pieces) == 1


def test_variants_stand_where_the_piece_stood(first, around):
    piece_add(quote=first.quote, shape="table_line")
    variant_add(piece=first)
    titles = [piece.title for piece in first.quote.pieces.all()]
    assert titles == ["Walk-through arch", "Walk-through arch", "Table line"]


def test_two_things_of_a_quote_have_their_own_choices(first, around):
    other = piece_type(
        piece=piece_add(quote=first.quote, shape="table_line"),
        typed={"shape": "table_line", "base": ["plum"]},
        surroundings=around,
    ).piece
    variant_add(piece=first)
    variant_choose(piece=variant_add(piece=other))
    first.refresh_from_db()
    assert first.counts
    assert names(variants_of(other)) == [("A", False), ("B", True)]


@pytest.mark.parametrize(
    "wrong",
    [{"counts": True}, {"variant": 1}, {"variant": 4}, {"choice": None, "variant": 1}],
    ids=["two count", "one place twice", "a fourth", "no choice and not counted"],
)
def test_the_database_refuses_what_must_not_be(first, wrong):
    copy = variant_add(piece=first)
    with pytest.raises(IntegrityError), transaction.atomic():
        Piece.objects.filter(pk=copy.pk).update(**wrong)


def test_side_by_side_only_what_differs_is_said(three, business, today):
    page = variants_page(three[0], business=business, today=today)
    assert [column.piece.variant_name for column in page.columns] == ["A", "B", "C"]
    assert page.columns[0].difference == ""
    assert page.columns[1].difference.endswith("more")
    assert page.columns[2].difference.endswith("less")
    said = {row.label: row.values for row in page.rows}
    assert said["Width at its widest"] == ("2 ft 6 in", "3 ft 2 in", "1 ft 4 in")
    assert said["Starbursts"] == ("none", "none", "2 copper")
    assert "Length" not in said
    assert all(len(set(values)) > 1 for values in said.values())


def test_a_variant_that_is_not_described_is_said_so(first, business, today):
    copy = variant_add(piece=first)
    Piece.objects.filter(pk=copy.pk).update(spec=None)
    page = variants_page(first, business=business, today=today)
    assert page.columns[1].problem
    assert page.columns[1].total_cents is None
    assert page.rows == ()


def test_the_owner_adds_compares_and_chooses(owner_client, first):
    answer = owner_client.post(reverse("piece_variant_add", args=[first.pk]), follow=True)
    assert "This is variant B" in answer.content.decode()
    made = Piece.objects.latest("pk")
    page = owner_client.get(reverse("piece_variants", args=[first.pk])).content.decode()
    assert "No difference yet" in page
    answer = owner_client.post(reverse("piece_choose", args=[made.pk]), follow=True)
    assert "Variant B counts" in answer.content.decode()
    made.refresh_from_db()
    assert made.counts


def test_a_fourth_is_refused_with_a_word(owner_client, three):
    answer = owner_client.post(reverse("piece_variant_add", args=[three[0].pk]), follow=True)
    assert ENOUGH in answer.content.decode()


def test_a_variant_is_never_chosen_by_looking(owner_client, three):
    assert owner_client.get(reverse("piece_choose", args=[three[1].pk])).status_code == 405
