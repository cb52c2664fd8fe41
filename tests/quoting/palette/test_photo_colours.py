import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image, ImageFilter

from quoting.estimator.palette import PhotoError, colours_of_photo
from quoting.estimator.palette.difference import delta_e, lab_of_hex
from quoting.estimator.palette.light import hex_of_light, linear_light, oklab
from quoting.estimator.palette.photo_colours import MERGED_BELOW, SMALLEST_SHARE
from tests.quoting.palette.photos import saved, striped

PORCH = {"#e8dcc6": 0.5, "#5e7f57": 0.3, "#3f7c8c": 0.12, "#f2a71b": 0.05, "#6b3a5b": 0.03}


def closest(hex_value, found):
    return min(found, key=lambda each: delta_e(each.lab, lab_of_hex(hex_value)))


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_the_colours_that_a_photo_was_made_of_come_back_with_their_shares(kind):
    found = colours_of_photo(saved(striped(PORCH, noise=6), kind, quality=85))
    assert len(found) == len(PORCH)
    for hex_value, share in PORCH.items():
        colour = closest(hex_value, found)
        # 2: the same to the eye. A hundredth: blends of one working pixel at each edge.
        assert delta_e(colour.lab, lab_of_hex(hex_value)) < 2
        assert colour.share == pytest.approx(share, abs=0.01)


def test_shares_are_of_the_whole_photo_and_the_largest_comes_first():
    shares = [colour.share for colour in colours_of_photo(striped(PORCH, noise=6))]
    assert shares == sorted(shares, reverse=True)
    assert 0.97 < sum(shares) <= 1 + 1e-9


def test_the_same_photo_and_seed_give_the_same_colours():
    photo = striped(PORCH, noise=12)
    assert colours_of_photo(photo, seed=3) == colours_of_photo(photo, seed=3)


@pytest.mark.parametrize("seed", range(5))
def test_another_seed_finds_the_same_to_the_eye(seed):
    photo = striped(PORCH, noise=12)
    first, again = colours_of_photo(photo), colours_of_photo(photo, seed=seed)
    assert len(first) == len(again)
    assert all(delta_e(one.lab, closest(one.hex, again).lab) < 2 for one in first)


def test_a_small_bright_thing_is_kept_among_many_shades_of_one_large_one():
    shades = {f"#{code:02x}{code + 20:02x}{code:02x}": 0.098 for code in range(40, 200, 16)}
    found = colours_of_photo(striped({**shades, "#f2a71b": 0.02}), most=4)
    assert len(found) == 4
    assert delta_e(closest("#f2a71b", found).lab, lab_of_hex("#f2a71b")) < 3


def test_what_is_left_out_for_want_of_room_does_not_muddy_what_stays():
    photo = striped({"#e8dcc6": 0.7, "#5e7f57": 0.3})
    assert [(each.hex, each.share) for each in colours_of_photo(photo, most=1)] == [
        ("#e8dcc6", pytest.approx(1))
    ]


def test_what_would_not_be_told_apart_is_one_colour():
    found = colours_of_photo(striped({"#e8dcc6": 0.5, "#e2d6be": 0.5}))
    assert len(found) == 1
    assert found[0].share == pytest.approx(1)


def test_tiny_shares_are_left_out():
    found = colours_of_photo(striped({"#e8dcc6": 0.995, "#000000": 0.005}))
    assert [delta_e(each.lab, lab_of_hex("#e8dcc6")) < 2 for each in found] == [True]


def test_a_photo_of_one_colour_has_one():
    found = colours_of_photo(Image.new("RGB", (300, 200), "#5e7f57"))
    assert [(each.hex, each.share) for each in found] == [("#5e7f57", 1)]


def test_one_pixel_is_photo_enough():
    assert colours_of_photo(Image.new("RGB", (1, 1), "#5e7f57"))[0].hex == "#5e7f57"


def test_see_through_parts_do_not_count():
    photo = striped({"#e8dcc6": 0.5, "#000000": 0.5}).convert("RGBA")
    photo.putalpha(Image.fromarray(np.repeat([[255] * 320 + [0] * 320], 480, 0).astype("uint8")))
    assert [(each.hex, each.share) for each in colours_of_photo(photo)] == [("#e8dcc6", 1)]


def test_a_photo_that_is_see_through_everywhere_is_refused():
    with pytest.raises(PhotoError, match="see-through everywhere"):
        colours_of_photo(Image.new("RGBA", (40, 40), (10, 20, 30, 0)))


def test_a_black_and_white_photo_has_greys():
    ramp = Image.linear_gradient("L").filter(ImageFilter.GaussianBlur(2))
    assert all(abs(each.lab[1]) < 1 and abs(each.lab[2]) < 1 for each in colours_of_photo(ramp))


@settings(max_examples=25)
@given(seed=st.integers(0, 2**32 - 1), most=st.integers(1, 8))
def test_colours_are_few_apart_and_shared_out_once(seed, most):
    codes = np.random.default_rng(seed).integers(0, 256, (24, 24, 3), dtype=np.uint8)
    found = colours_of_photo(Image.fromarray(codes), most=most, seed=seed)
    assert 1 <= len(found) <= most
    assert sum(each.share for each in found) <= 1 + 1e-9
    assert all(each.share >= SMALLEST_SHARE for each in found)
    for i, one in enumerate(found):
        for other in found[i + 1 :]:
            # Half a unit: colours are rounded to `#rrggbb` after they were compared.
            assert delta_e(one.lab, other.lab) > MERGED_BELOW - 0.5


def test_arrays_of_pixels_agree_with_single_colours():
    from coloraide import Color

    codes = np.array([[0x5E, 0x7F, 0x57], [0, 0, 0], [255, 255, 255], [3, 250, 128]], np.uint8)
    for code, light, ok in zip(codes, linear_light(codes), oklab(linear_light(codes)), strict=True):
        colour = Color("srgb", (code / 255).tolist())
        assert light == pytest.approx(colour.convert("srgb-linear")[:3], abs=1e-9)
        # 5e-4: the published matrices have ten digits but another white point's rounding.
        assert ok == pytest.approx(colour.convert("oklab")[:3], abs=5e-4)
        assert hex_of_light(light) == f"#{bytes(code).hex()}"
