import pytest
from coloraide import Color
from hypothesis import given
from hypothesis import strategies as st

from quoting.estimator.palette import Deficiency, kept_apart, seasonal_palettes
from quoting.estimator.palette.difference import delta_e, lab_of_hex
from quoting.estimator.palette.vision import seen_as

HEXES = st.integers(0, 0xFFFFFF).map(lambda code: f"#{code:06x}")


def kinds(found):
    return {each.deficiency for each in found}


# Which hues each kind confuses is textbook knowledge, from memory.
def test_a_red_and_a_green_of_like_lightness_fall_together_for_red_green_deficiencies():
    found = kept_apart({"moss": "#6f7a2a", "rust": "#a3602c"})
    assert {Deficiency.PROTAN, Deficiency.DEUTAN} & kinds(found)
    assert Deficiency.TRITAN not in kinds(found)


def test_a_blue_and_a_green_of_like_lightness_fall_together_without_blue_cones():
    found = kept_apart({"sea": "#3f7c8c", "leaf": "#3f8260"})
    assert kinds(found) == {Deficiency.TRITAN}


def test_blue_and_yellow_are_kept_apart_for_all():
    assert kept_apart({"sky": "#2f6fb0", "straw": "#e8c95a"}) == ()


def test_two_shades_that_nobody_tells_apart_are_said_once_and_of_everybody():
    found = kept_apart({"oat": "#e8dcc6", "oatmeal": "#e6dac6"})
    assert [(each.first, each.second, each.deficiency) for each in found] == [
        ("oat", "oatmeal", None)
    ]
    assert found[0].in_words == "oat and oatmeal look alike to everybody"


def test_only_the_deficiencies_that_are_asked_for_are_looked_at():
    palette = {"sea": "#3f7c8c", "leaf": "#3f8260"}
    assert kept_apart(palette, deficiencies=[Deficiency.PROTAN]) == ()


def test_the_words_name_both_colours_and_how_many_people():
    found = kept_apart({"fern": "#5e7f57", "copper": "#b4693d"})
    assert found[0].in_words == (
        "fern and copper are hard to tell apart for about 1 man in 100, who sees no red "
        "(protanopia)"
    )


@pytest.mark.parametrize("deficiency", Deficiency)
@pytest.mark.parametrize("grey", ["#000000", "#4d4d4d", "#808080", "#cccccc", "#ffffff"])
def test_greys_look_grey_to_everybody(deficiency, grey):
    # Brettel, Vienot, Mollon 1997 keep the neutral axis as it is. 1: at most just seen.
    assert delta_e(seen_as(grey, deficiency), lab_of_hex(grey)) < 1


# Brettel, Vienot, Mollon 1997: lights of 475 and 575 nm look alike to those with and without
# red or green cones, 485 and 660 nm to those with and without blue ones; and so do their
# mixtures with white. Those here are as strong as a screen shows them, by the CIE 1931
# observer. 1: at most just seen.
@pytest.mark.parametrize(
    ("deficiency", "wavelength_nm", "hex_value"),
    [
        (Deficiency.PROTAN, 475, "#0583ee"),
        (Deficiency.PROTAN, 575, "#d1b410"),
        (Deficiency.DEUTAN, 475, "#0583ee"),
        (Deficiency.DEUTAN, 575, "#d1b410"),
        (Deficiency.TRITAN, 485, "#10a8c9"),
        (Deficiency.TRITAN, 660, "#a51136"),
    ],
)
def test_the_lights_that_look_alike_to_all_stay_as_they_are(deficiency, wavelength_nm, hex_value):
    # The dominant wavelength is what the hex was mixed from; 8 bits move it by up to 1 nm, and
    # a deep red, where the observer hardly tells wavelengths apart, by more.
    assert Color(hex_value).wavelength()[0] == pytest.approx(
        wavelength_nm, abs=1 if wavelength_nm < 600 else 25
    )
    assert delta_e(seen_as(hex_value, deficiency), lab_of_hex(hex_value)) < 1


# An independent model of the same deficiencies: G. Machado, M. Oliveira, L. Fernandes, IEEE
# *Transactions on Visualization and Computer Graphics* 15(6), 2009, at full severity. Models
# differ by some units on strong colours; both must say that the pair has come much closer.
@pytest.mark.parametrize("deficiency", [Deficiency.PROTAN, Deficiency.DEUTAN])
def test_another_model_agrees_on_what_comes_closer(deficiency):
    pair = ("#7c7a2a", "#a3602c")
    plain = delta_e(*map(lab_of_hex, pair))
    ours = delta_e(*(seen_as(each, deficiency) for each in pair))
    one, other = (Color(each).filter(deficiency.value, method="machado") for each in pair)
    theirs = one.delta_e(other, method="2000")
    assert ours < plain / 2
    assert theirs < plain / 2


@given(st.lists(HEXES, min_size=2, max_size=4, unique=True))
def test_each_pair_and_deficiency_is_reported_at_most_once(hexes):
    found = kept_apart({f"colour {i}": value for i, value in enumerate(hexes)})
    keys = [(each.first, each.second, each.deficiency) for each in found]
    assert len(keys) == len(set(keys))


@pytest.mark.parametrize("palette", seasonal_palettes(), ids=lambda palette: palette.name)
def test_every_seasonal_palette_is_kept_apart_for_everybody(palette):
    assert kept_apart({colour.name: colour.hex for colour in palette.colours}) == ()


def test_there_are_palettes_for_every_season_and_no_colour_name_twice():
    palettes = seasonal_palettes()
    assert [palette.season for palette in palettes] == [
        season for season in ("spring", "summer", "autumn", "winter") for _ in range(2)
    ]
    names = [colour.name for palette in palettes for colour in palette.colours]
    assert len(names) == len(set(names))
