"""CIEDE2000 and CIELAB against published numbers.

Pairs: G. Sharma, W. Wu, E. Dalal, "The CIEDE2000 color-difference formula: implementation
notes, supplementary test data, and mathematical observations", *Color Research &
Application* 30(1), 21-30, 2005, table 1. All 34 rows, as other
copies of the table have them; rows 10 and 12 are from memory. The tolerance is half of the
last printed digit.
"""

import pytest
from coloraide import Color
from hypothesis import given
from hypothesis import strategies as st

from quoting.estimator.palette.difference import delta_e, lab_of_hex

BLUE = (50.0, 0.0, -82.7485)
GREY_PINK = (50.0, 2.5, 0.0)
SHARMA_TABLE_1 = [
    ((50, 2.6772, -79.7751), BLUE, 2.0425),
    ((50, 3.1571, -77.2803), BLUE, 2.8615),
    ((50, 2.8361, -74.0200), BLUE, 3.4412),
    ((50, -1.3802, -84.2814), BLUE, 1.0000),
    ((50, -1.1848, -84.8006), BLUE, 1.0000),
    ((50, -0.9009, -85.5211), BLUE, 1.0000),
    ((50, 0, 0), (50, -1, 2), 2.3669),
    ((50, -1, 2), (50, 0, 0), 2.3669),
    ((50, 2.4900, -0.0010), (50, -2.4900, 0.0009), 7.1792),
    ((50, 2.4900, -0.0010), (50, -2.4900, 0.0010), 7.1792),
    ((50, 2.4900, -0.0010), (50, -2.4900, 0.0011), 7.2195),
    ((50, 2.4900, -0.0010), (50, -2.4900, 0.0012), 7.2195),
    ((50, -0.0010, 2.4900), (50, 0.0009, -2.4900), 4.8045),
    ((50, -0.0010, 2.4900), (50, 0.0010, -2.4900), 4.8045),
    ((50, -0.0010, 2.4900), (50, 0.0011, -2.4900), 4.7461),
    (GREY_PINK, (50, 0, -2.5), 4.3065),
    (GREY_PINK, (73, 25, -18), 27.1492),
    (GREY_PINK, (61, -5, 29), 22.8977),
    (GREY_PINK, (56, -27, -3), 31.9030),
    (GREY_PINK, (58, 24, 15), 19.4535),
    (GREY_PINK, (50, 3.1736, 0.5854), 1.0000),
    (GREY_PINK, (50, 3.2972, 0), 1.0000),
    (GREY_PINK, (50, 1.8634, 0.5757), 1.0000),
    (GREY_PINK, (50, 3.2592, 0.3350), 1.0000),
    ((60.2574, -34.0099, 36.2677), (60.4626, -34.1751, 39.4387), 1.2644),
    ((63.0109, -31.0961, -5.8663), (62.8187, -29.7946, -4.0864), 1.2630),
    ((61.2901, 3.7196, -5.3901), (61.4292, 2.2480, -4.9620), 1.8731),
    ((35.0831, -44.1164, 3.7933), (35.0232, -40.0716, 1.5901), 1.8645),
    ((22.7233, 20.0904, -46.6940), (23.0331, 14.9730, -42.5619), 2.0373),
    ((36.4612, 47.8580, 18.3852), (36.2715, 50.5065, 21.2231), 1.4146),
    ((90.8027, -2.0831, 1.4410), (91.1528, -1.6435, 0.0447), 1.4441),
    ((90.9257, -0.5406, -0.9208), (88.6381, -0.8985, -0.7239), 1.5381),
    ((6.7747, -0.2908, -2.4247), (5.8714, -0.0985, -2.2286), 0.6377),
    ((2.0776, 0.0795, -1.1350), (0.9033, -0.0636, -0.5514), 0.9082),
]
LABS = st.tuples(st.floats(0, 100), st.floats(-100, 100), st.floats(-100, 100))


@pytest.mark.parametrize(("first", "second", "published"), SHARMA_TABLE_1)
def test_every_published_pair_comes_out_to_the_last_printed_digit(first, second, published):
    assert delta_e(first, second) == pytest.approx(published, abs=0.5e-4)


def test_the_published_table_is_whole():
    assert len(SHARMA_TABLE_1) == 34


# From memory, recomputed for the project's list of check values; D65, tolerance +-0.01
# because white points are quoted to four or five digits.
@pytest.mark.parametrize(
    ("hex_value", "lab"),
    [
        ("#ff0000", (53.2408, 80.0925, 67.2032)),
        ("#00ff00", (87.7347, -86.1827, 83.1793)),
        ("#0000ff", (32.2970, 79.1875, -107.8602)),
        ("#ffffff", (100, 0, 0)),  # by definition of the space
        ("#000000", (0, 0, 0)),
    ],
)
def test_screen_primaries_have_their_known_places_in_cielab(hex_value, lab):
    assert lab_of_hex(hex_value) == pytest.approx(lab, abs=0.01)


# An independent implementation of both steps.
@pytest.mark.parametrize("pair", [("#e8dcc6", "#f2a71b"), ("#5e7f57", "#b4693d"), ("#000", "#fff")])
def test_the_distance_agrees_with_scikit_image(pair):
    from skimage.color import deltaE_ciede2000, rgb2lab

    labs = [rgb2lab([[list(Color(each).convert("srgb")[:3])]])[0, 0] for each in pair]
    ours = delta_e(*(lab_of_hex(each) for each in pair))
    # 0.01: its white point has five digits, see above.
    assert ours == pytest.approx(float(deltaE_ciede2000(*labs)), abs=0.01)


@given(LABS, LABS)
def test_the_distance_is_the_same_both_ways_and_never_negative(first, second):
    assert delta_e(first, second) == pytest.approx(delta_e(second, first), abs=1e-9)
    assert delta_e(first, second) >= 0


@given(LABS)
def test_a_colour_is_no_distance_from_itself(lab):
    assert delta_e(lab, lab) == 0
