import pytest

from quoting.estimator import example_catalogue
from quoting.estimator.palette import Nearness, ShelfColour, match
from quoting.estimator.palette.difference import delta_e, lab_of_hex, nearness

SHELF = (
    ShelfColour(key="oat", name="Oat", hex="#e8dcc6", free=40),
    ShelfColour(key="fern", name="Fern", hex="#5e7f57", free=12),
    ShelfColour(key="tidewater", name="Tidewater", hex="#3f7c8c"),
    ShelfColour(key="copper", name="Copper", hex="#b4693d", finish="Chrome", free=0),
)


def test_the_closest_balloon_comes_first_with_its_distance():
    found = match("#557755", SHELF)
    assert [each.key for each in found] == ["fern", "tidewater", "copper"]
    assert found[0].delta_e == delta_e(lab_of_hex("#557755"), lab_of_hex("#5e7f57"))
    assert [each.delta_e for each in found] == sorted(each.delta_e for each in found)


def test_a_colour_matches_itself_as_the_same_to_the_eye():
    best = match("#5e7f57", SHELF, most=1)[0]
    assert (best.key, best.delta_e, best.nearness) == ("fern", 0, Nearness.SAME)


def test_a_lab_colour_matches_like_its_hex():
    assert match(lab_of_hex("#557755"), SHELF) == match("#557755", SHELF)


@pytest.mark.parametrize(
    ("distance", "word"),
    [
        (0, "same to the eye"),
        (2, "same to the eye"),
        (2.01, "near"),
        (5, "near"),
        (5.01, "far"),
        (60, "far"),
    ],
)
def test_the_words_change_at_the_stated_distances(distance, word):
    assert nearness(distance) == word


@pytest.mark.parametrize(
    ("key", "need", "enough"),
    [
        ("fern", 12, True),
        ("fern", 13, False),
        ("fern", None, None),
        ("tidewater", 5, None),
        ("copper", 1, False),
        ("copper", 0, True),
    ],
)
def test_enough_is_said_only_when_both_numbers_are_known(key, need, enough):
    hexes = {each.key: each.hex for each in SHELF}
    assert match(hexes[key], SHELF, need=need, most=1)[0].enough is enough


def test_a_shiny_finish_carries_its_warning():
    assert match("#b4693d", SHELF, most=1)[0].in_words.endswith("chrome changes with the light")


def test_an_empty_shelf_matches_nothing():
    assert match("#b4693d", ()) == ()


def test_ties_are_broken_by_name_so_that_the_order_never_wavers():
    twins = [ShelfColour(key=key, name=key, hex="#112233") for key in ("b", "a", "c")]
    assert [each.key for each in match("#112233", twins)] == ["a", "b", "c"]


def test_the_catalogue_can_be_matched_as_it_stands():
    shelf = [
        ShelfColour(key=item.colour, name=item.name, hex=item.hex)
        for item in example_catalogue().items
        if item.nominal_in == 11
    ]
    assert match("#f0a520", shelf, most=1)[0].key == "marigold"
