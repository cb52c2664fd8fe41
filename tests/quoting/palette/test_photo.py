from io import BytesIO

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from quoting.estimator.palette import PhotoError
from quoting.estimator.palette.photo import (
    MOST_PIXELS,
    TOO_DEEP,
    TOO_LARGE,
    UNREADABLE,
    open_photo,
)
from tests.quoting.palette.photos import saved, striped, swapped_red_and_green

RED_GREEN = {"#ff0000": 0.5, "#00ff00": 0.5}
ORIENTATION = 0x0112


def turned_exif(orientation):
    exif = Image.Exif()
    exif[ORIENTATION] = orientation
    return exif


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
@pytest.mark.parametrize("source", [bytes, BytesIO])
def test_the_three_formats_open_from_bytes_and_from_files(kind, source):
    photo = open_photo(source(saved(striped(RED_GREEN), kind)))
    assert (photo.mode, photo.size) == ("RGB", (640, 480))


def test_a_path_opens(tmp_path):
    path = tmp_path / "porch.png"
    path.write_bytes(saved(striped(RED_GREEN)))
    assert open_photo(path).size == open_photo(str(path)).size == (640, 480)


@pytest.mark.parametrize("kind", ["GIF", "TIFF", "BMP", "ICNS"])
def test_other_formats_are_refused_whatever_they_are_called(kind):
    with pytest.raises(PhotoError, match=UNREADABLE):
        open_photo(saved(striped(RED_GREEN, size=(64, 64)), kind))


@pytest.mark.parametrize("content", [b"", b"not a photo", b"<svg/>", b"\x89PNG\r\n\x1a\n"])
def test_what_is_no_photo_is_refused(content):
    with pytest.raises(PhotoError, match=UNREADABLE):
        open_photo(content)


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_a_photo_that_breaks_off_is_refused(kind):
    content = saved(striped(RED_GREEN, noise=20), kind)
    with pytest.raises(PhotoError, match=UNREADABLE):
        open_photo(content[: len(content) // 2])


def test_a_small_file_of_too_many_pixels_is_refused_before_it_is_decoded():
    side = 7000
    assert side * side > MOST_PIXELS
    bomb = saved(Image.new("1", (side, side)))
    assert len(bomb) < 50_000
    with pytest.raises(PhotoError, match=TOO_LARGE):
        open_photo(bomb)


def test_far_too_many_pixels_are_refused_alike():
    with pytest.raises(PhotoError, match=TOO_LARGE):
        open_photo(saved(Image.new("1", (20_000, 20_000))))


def test_sixteen_bits_a_channel_are_refused_in_words():
    with pytest.raises(PhotoError, match=TOO_DEEP):
        open_photo(saved(Image.new("I;16", (32, 32), 40_000)))


@pytest.mark.parametrize("at_least", [None, 100])
def test_a_photo_taken_sideways_is_set_upright(at_least):
    quarter_turn = 6  # Exif 2.3: the top of the scene is on the right side of the file
    content = saved(striped(RED_GREEN), "JPEG", exif=turned_exif(quarter_turn))
    photo = open_photo(content, at_least=at_least)
    assert photo.height > photo.width
    top, bottom = (photo.getpixel((photo.width // 2, y)) for y in (2, photo.height - 3))
    assert top[0] > 200 > top[1]
    assert bottom[1] > 200 > bottom[0]


@pytest.mark.parametrize("mode", ["1", "L", "LA", "P", "PA", "RGBA", "CMYK", "I;16"])
def test_images_in_memory_of_other_modes_end_as_rgb_or_are_refused(mode):
    try:
        photo = open_photo(Image.new(mode, (500, 400)), at_least=100)
    except PhotoError as refused:
        assert mode == "I;16" and TOO_DEEP in str(refused)
    else:
        assert photo.mode in {"RGB", "RGBA"}


@given(at_least=st.integers(1, 900))
def test_shrinking_never_goes_below_what_is_enough(at_least):
    photo = open_photo(striped(RED_GREEN), at_least=at_least)
    assert min(at_least, 640) <= max(photo.size) <= 640


@pytest.mark.parametrize("mode", ["RGB", "RGBA"])
def test_the_colour_profile_within_is_heeded(mode):
    red = Image.new(mode, (64, 64), "#ff0000")
    photo = open_photo(saved(red, icc_profile=swapped_red_and_green()))
    # 3 codes: colour management works with tables.
    assert photo.mode == mode
    assert photo.getpixel((5, 5))[:3] == pytest.approx((0, 255, 0), abs=3)


def test_a_broken_profile_is_passed_over():
    red = Image.new("RGB", (64, 64), "#ff0000")
    photo = open_photo(saved(red, icc_profile=b"no profile at all"))
    assert photo.getpixel((5, 5)) == (255, 0, 0)


PHOTOS = {
    kind: saved(striped(RED_GREEN, size=(96, 64), noise=9), kind)
    for kind in ("JPEG", "PNG", "WEBP")
}


@given(
    kind=st.sampled_from(sorted(PHOTOS)),
    at=st.floats(0, 1, exclude_max=True),
    junk=st.binary(min_size=1, max_size=12),
)
def test_a_damaged_photo_opens_or_is_refused_and_nothing_else(kind, at, junk):
    content = bytearray(PHOTOS[kind])
    start = int(at * len(content))
    content[start : start + len(junk)] = junk
    try:
        photo = open_photo(bytes(content))
    except PhotoError:
        return
    assert np.asarray(photo).ndim == 3
