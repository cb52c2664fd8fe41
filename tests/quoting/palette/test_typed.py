import pytest
from hypothesis import given
from hypothesis import strategies as st

from quoting.estimator.palette import ColourError, parse_colour, parse_colours
from quoting.estimator.palette.typed import ALLOWED, MOST_TYPED


@pytest.mark.parametrize(
    ("typed", "hex_value"),
    [
        ("#e8dcc6", "#e8dcc6"),
        (" E8DCC6 ", "#e8dcc6"),
        ("#edc", "#eeddcc"),
        ("rgb(232, 220, 198)", "#e8dcc6"),
        ("RGB(232 220 198)", "#e8dcc6"),
        ("rgb(100%, 0%, 50.2%)", "#ff0080"),
        ("rgb(0,0,0)", "#000000"),
    ],
)
def test_a_colour_is_read_as_people_write_it(typed, hex_value):
    assert parse_colour(typed) == hex_value


@pytest.mark.parametrize(
    "typed", ["", "navy", "#12345", "#12345g", "rgb(1,2)", "rgb(1,2,3", "rgb(-1,2,3)", "١٢٣" * 2]
)
def test_what_is_not_understood_is_quoted_with_what_is_allowed(typed):
    with pytest.raises(ColourError, match="must be a colour such as #e8dcc6") as refused:
        parse_colour(typed)
    assert refused.value.problems[0].key == "colour"


@pytest.mark.parametrize("typed", ["rgb(256, 0, 0)", "rgb(0, 101%, 0)"])
def test_too_much_of_a_channel_is_refused(typed):
    with pytest.raises(ColourError, match="from 0 to 255, or 0% to 100%"):
        parse_colour(typed)


def test_a_few_colours_may_be_parted_in_any_way_and_are_kept_once():
    typed = "#e8dcc6, rgb(94, 127, 87);f2a71b\n#E8DCC6"
    assert parse_colours(typed) == ("#e8dcc6", "#5e7f57", "#f2a71b")


def test_every_colour_that_is_not_understood_is_named():
    with pytest.raises(ColourError) as refused:
        parse_colours("#e8dcc6 puce 5e7f57 rgb(1)")
    assert [problem.key for problem in refused.value.problems] == ["colours[1]", "colours[3]"]


@pytest.mark.parametrize("typed", ["", " ,; \n", "#fff " * (MOST_TYPED + 1)])
def test_none_and_too_many_are_refused(typed):
    with pytest.raises(ColourError) as refused:
        parse_colours(typed)
    assert ALLOWED in str(refused.value)


@given(st.text(max_size=200))
def test_any_text_is_read_or_refused(typed):
    try:
        colours = parse_colours(typed)
    except ColourError:
        return
    assert all(parse_colour(colour) == colour for colour in colours)
