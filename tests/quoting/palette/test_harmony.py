import pytest
from coloraide import Color
from hypothesis import given
from hypothesis import strategies as st

from quoting.estimator.palette import harmonies

HEXES = st.integers(0, 0xFFFFFF).map(lambda code: f"#{code:06x}")
# The turns that colour-wheel schemes are defined by, in degrees.
TURNS = {"neighbour": {330, 30}, "opposite": {180}, "three-way": {120, 240}}
HALF_A_CODE = 0.5 / 255


def hue_and_chroma(hex_value):
    _, chroma, hue = Color(hex_value).convert("oklch").coords(nans=False)
    return hue, chroma


def off(angle, wanted):
    return abs((angle - wanted + 180) % 360 - 180)


@given(HEXES)
def test_hues_are_turned_by_the_angles_of_their_scheme(hex_value):
    own, _ = hue_and_chroma(hex_value)
    for harmony in harmonies(hex_value):
        assert harmony.hexes[0] == hex_value
        assert len(harmony.hexes) == 1 + len(TURNS[harmony.name])
        for other in harmony.hexes[1:]:
            hue, chroma = hue_and_chroma(other)
            # `#rrggbb` rounds each channel by half a code, which turns a pale or dark
            # colour's hue the more: the cube root of OKLab is steep near black.
            if chroma < 0.05 or Color(other).convert("oklch")["lightness"] < 0.3:
                continue
            assert min(off(hue - own, turn) for turn in TURNS[harmony.name]) < 3


@given(HEXES)
def test_lightness_is_kept(hex_value):
    wanted = Color(hex_value).convert("oklch")["lightness"]
    for harmony in harmonies(hex_value):
        for other in harmony.hexes[1:]:
            # 0.01 is half of what is just seen in OKLab; darker, one code is more than that.
            allowed = 0.01 if wanted > 0.3 else 0.05
            assert Color(other).convert("oklch")["lightness"] == pytest.approx(wanted, abs=allowed)


@pytest.mark.parametrize("grey", ["#ffffff", "#000000", "#808080", "#f4f4f3"])
def test_greys_have_no_harmonies(grey):
    assert harmonies(grey) == ()


def test_the_three_schemes_are_named_in_plain_words():
    names = [harmony.name for harmony in harmonies("#5e7f57")]
    assert names == ["neighbour", "opposite", "three-way"]
