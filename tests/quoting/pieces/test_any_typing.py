"""Whatever is typed is kept, and answered without breaking."""

import pytest
from django.http import QueryDict
from django.template.loader import render_to_string
from hypothesis import given, settings
from hypothesis import strategies as st

from decor.models.business import Units
from quoting.models import Piece
from quoting.pieces.form import SEVERAL, PieceForm
from quoting.pieces.notes import notes_of
from quoting.pieces.panel import panel_of
from quoting.pieces.reading import read_piece
from quoting.pieces.rows import FormRows
from quoting.pieces.service import piece_type
from quoting.pieces.shelf import shelf_of
from quoting.pieces.surroundings import surroundings_of
from quoting.pieces.views import typed_of
from tests.quoting.pieces.conftest import surroundings_in

SURROUNDINGS = surroundings_in(Units.IMPERIAL)
NAMES = sorted(PieceForm({}, units=Units.IMPERIAL, shelf=shelf_of(SURROUNDINGS.catalogue)).fields)
COLOURS = ["oat", "fern", "marigold", "plum", "copper", "puce", ""]
VALUES = st.one_of(
    st.text(max_size=30),
    st.sampled_from(
        ["", "0", "-1", "1", "4", "8", "50", "100", "1e9", "nan", "∞", "٣", "7 ft 6 in", "2 mm",
         "9.5", "12", "drape", "walk_arch", "backdrop_ring", "lush", "slim", "none", "blend",
         "yes", "0, 0\n1, 1", "0,0\n0,0", "oat, fern", "20 mph", "\0", "0.99", "3"]
    ),
)  # fmt: skip
TYPED = st.dictionaries(
    st.one_of(st.sampled_from(NAMES), st.text(max_size=12)), VALUES, max_size=25
).flatmap(
    lambda plain: st.fixed_dictionaries(
        {name: st.lists(st.sampled_from(COLOURS), max_size=4) for name in SEVERAL}
    ).map(lambda several: plain | several)
)


@given(typed=TYPED, units=st.sampled_from(Units.values))
@settings(max_examples=150)
def test_anything_typed_is_either_a_spec_or_refused_with_a_reason(typed, units):
    surroundings = surroundings_in(units)
    reading = read_piece(typed, surroundings)
    assert (reading.spec is not None) == (not reading.form.errors)
    notes = notes_of(reading, surroundings, with_errors=True)
    assert all(notes[name].is_error for name in reading.form.errors if name != "__all__")
    FormRows(reading.form).base()
    if reading.estimate:
        panel = panel_of(reading.estimate, surroundings.catalogue, units=units)
        cells = [cell for row in panel.balloons.rows for cell in row.cells if cell]
        assert sum(cell.total for cell in cells) == panel.order_total
        assert all(cell.low <= cell.need <= cell.high for cell in cells)


@given(typed=TYPED)
@settings(max_examples=100)
def test_everything_typed_is_shown_again(typed):
    form = read_piece(typed, SURROUNDINGS).form
    for name in set(typed) & set(form.fields) - set(SEVERAL) - {"rain"}:
        assert form[name].value() == typed[name]
    for name in SEVERAL:
        ticked = {row.key for row in getattr(FormRows(form), name)() if row.is_on}
        assert ticked == set(typed[name])


@pytest.mark.parametrize(
    "typed",
    [
        {"base": ["oat"], "title": "\0 nul"},
        {"base": ["oat"], "nobody knows\0": "this"},
        {"base": ["oat"], "gust": "\U0001f600 strong", "title": "x" * 500},
        {"base": ["puce", "", "oat", "oat"], "share_puce": "10"},
    ],
)
def test_odd_typing_is_kept_in_the_database(piece, business, today, typed):
    around = surroundings_of(piece.quote, business=business, today=today)
    piece_type(piece=piece, typed=typed, surroundings=around)
    kept = Piece.objects.get(pk=piece.pk).typed
    assert kept == {
        name.replace("\0", ""): value.replace("\0", "") if isinstance(value, str) else value
        for name, value in typed.items()
    }


def test_a_posted_form_keeps_lists_as_lists_and_the_rest_as_text():
    posted = QueryDict("base=oat&base=fern&title=a&title=b&window=w&csrfmiddlewaretoken=t")
    assert typed_of(posted) == {"base": ["oat", "fern"], "title": "b"}


def test_a_single_tick_is_still_a_list():
    assert typed_of(QueryDict("base=oat")) == {"base": ["oat"]}


def test_the_panel_never_shows_markup_that_was_typed():
    typed = {"base": ["<script>"], "gust": "<script>"}
    reading = read_piece(typed, SURROUNDINGS)
    html = render_to_string(
        "quoting/pieces/partials/problems.html",
        {"form": reading.form, "with_errors": True},
    )
    assert "<script>" not in html
    assert "&lt;script&gt;" in html
