import numpy as np
import pytest
from PIL import Image

from quoting.estimator.palette import Box, PhotoError, measured_colour
from quoting.estimator.palette.difference import delta_e, lab_of_hex
from quoting.estimator.palette.measuring import GLARE, TOO_BRIGHT, TOO_DARK, UNEVEN
from tests.quoting.palette.photos import saved, striped

MIDDLE = Box(left=100, top=100, right=260, bottom=220)


def test_an_even_area_gives_its_own_colour_and_no_warning():
    found = measured_colour(saved(striped({"#5e7f57": 0.5, "#e8dcc6": 0.5})), MIDDLE)
    assert (found.hex, found.spread, found.clipped_share, found.warnings) == ("#5e7f57", 0, 0, ())


def test_only_the_area_that_was_picked_counts():
    photo = striped({"#5e7f57": 0.5, "#e8dcc6": 0.5})
    right = Box(left=330, top=0, right=640, bottom=480)
    assert measured_colour(photo, right).hex == "#e8dcc6"


def test_light_is_averaged_and_not_the_codes():
    checks = np.indices((160, 160)).sum(axis=0) % 2 * 255
    photo = Image.fromarray(checks.astype(np.uint8)).convert("RGB")
    found = measured_colour(photo, Box(left=0, top=0, right=160, bottom=160))
    # Half the light is code 188 by the sRGB curve (IEC 61966-2-1); codes would give 128.
    assert found.hex == "#bcbcbc"


def test_a_bright_quarter_counts_for_a_quarter_of_the_light():
    quarter = np.zeros((160, 160), np.uint8)
    quarter[::2, ::2] = 255
    photo = Image.fromarray(quarter).convert("RGB")
    found = measured_colour(photo, Box(left=0, top=0, right=160, bottom=160))
    # 255 * (1.055 * 0.25 ** (1 / 2.4) - 0.055) is 136.9 by the same curve.
    assert found.hex == "#898989"


def test_the_camera_s_noise_is_averaged_out_and_is_not_unevenness():
    photo = saved(striped({"#5e7f57": 1}, noise=8), "JPEG", quality=90)
    found = measured_colour(photo, MIDDLE)
    # 1: at most just seen. Noise of 8 codes moves the mean of its light a little upwards.
    assert delta_e(lab_of_hex(found.hex), lab_of_hex("#5e7f57")) < 1
    assert found.spread < 1
    assert found.warnings == ()


def test_glare_is_told_with_its_share():
    photo = striped({"#5e7f57": 1})
    photo.paste("#ffffff", (100, 100, 116, 220))
    found = measured_colour(photo, MIDDLE)
    assert found.clipped_share == pytest.approx(0.1)
    assert GLARE in found.warnings


def test_a_change_of_shade_across_the_area_is_told():
    found = measured_colour(striped({"#5e7f57": 0.28, "#2f4f2f": 0.72}), MIDDLE)
    assert found.warnings == (UNEVEN,)
    assert found.spread > 5


def test_what_the_camera_could_not_count_is_told():
    white = measured_colour(Image.new("RGB", (400, 300), "#ffffff"), MIDDLE)
    assert white.warnings == (TOO_BRIGHT,)
    black = measured_colour(Image.new("RGB", (400, 300), "#050505"), MIDDLE)
    assert black.warnings == (TOO_DARK,)


@pytest.mark.parametrize(
    ("box", "message"),
    [
        (Box(left=-1, top=0, right=20, bottom=20), "within the photo, 0 to 640 across, -1 to 20"),
        (Box(left=0, top=0, right=641, bottom=20), "within the photo, 0 to 640 across"),
        (Box(left=0, top=470, right=20, bottom=490), "within the photo, 0 to 480 down"),
        (Box(left=10, top=10, right=17, bottom=40), "at least 8 pixels across"),
        (Box(left=10, top=40, right=40, bottom=10), "at least 8 pixels down"),
    ],
)
def test_an_area_that_cannot_be_measured_is_refused(box, message):
    with pytest.raises(PhotoError, match=message):
        measured_colour(striped({"#5e7f57": 1}), box)


def test_the_area_is_of_the_upright_photo():
    exif = Image.Exif()
    exif[0x0112] = 6
    content = saved(striped({"#ff0000": 0.5, "#00ff00": 0.5}), "PNG", exif=exif)
    below = Box(left=0, top=400, right=400, bottom=600)
    assert measured_colour(content, below).hex == "#00ff00"
