import pytest

from decor.models.business import Units
from quoting.estimator import example_catalogue
from quoting.pieces.reading import read_piece
from quoting.pieces.words import palette_of, piece_in_words, said
from tests.quoting.pieces.conftest import surroundings_in

CATALOGUE = example_catalogue()


def spec_of(units=Units.IMPERIAL, **typed):
    return read_piece({"base": ["oat", "fern"], **typed}, surroundings_in(units)).spec


def words(units=Units.IMPERIAL, **typed):
    return piece_in_words(spec_of(units, **typed), units=units, catalogue=CATALOGUE)


@pytest.mark.parametrize(
    ("typed", "begins"),
    [
        ({"shape": "walk_arch"}, "An arch, 8 ft wide and 8 ft high, in oat and fern."),
        ({"shape": "table_line"}, "A straight garland, 6 ft long, in"),
        ({"shape": "entrance_posts"}, "Two posts and a top, 10 ft wide and 8 ft high, in"),
        ({"shape": "porch_swag"}, "A swag over 6 ft, hanging down 1 ft 6 in, in"),
        ({"shape": "backdrop_ring"}, "A ring, 6 ft 6 in across, in"),
        ({"shape": "drape"}, "A garland led from point to point, 17 ft long, in"),
    ],
)
def test_a_shape_is_said_as_a_client_would(typed, begins):
    assert words(**typed).startswith(begins)


def test_fullness_and_extras_are_said():
    text = words(accents=["marigold"], burst_copper="3")
    assert "The garland is 1 ft 6 in to 2 ft 6 in across." in text
    assert "large single balloons" in text
    assert "accents in marigold" in text
    assert "3 copper foil starbursts." in text


def test_one_starburst_is_one():
    assert "1 copper foil starburst." in words(burst_copper="1")


def test_an_even_width_is_said_once():
    assert "The garland is 1 ft across." in words(width_ends="1 ft", width_middle="1 ft")


def test_the_colour_with_most_is_said_first():
    assert "in fern and oat." in words(share_fern="70")


def test_metres_for_a_metric_business():
    assert words(Units.METRIC, shape="walk_arch").startswith("An arch, 2.40 m wide")


@pytest.mark.parametrize("inside", ["cost", "hour", "margin", "$", "spare", "cluster of", "order"])
def test_the_client_never_reads_of_cost_or_stock(inside):
    assert inside not in words(accents=["marigold"], burst_copper="3").lower()


def test_the_palette_has_each_colour_once_with_its_own_value():
    spec = spec_of(accents=["fern", "plum"], burst_copper="2", share_fern="70")
    assert [(swatch.name, swatch.hex) for swatch in palette_of(spec, CATALOGUE)] == [
        ("Fern", "#5E7F57"),
        ("Oat", "#E8DCC6"),
        ("Plum", "#6B3A5B"),
        ("Copper", "#B4693D"),
    ]


@pytest.mark.parametrize(
    ("words", "text"), [(["a"], "a"), (["a", "b"], "a and b"), (["a", "b", "c"], "a, b and c")]
)
def test_lists_are_said_with_and(words, text):
    assert said(words) == text
