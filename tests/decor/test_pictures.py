"""Hostile and honest picture files. What each case must come to was decided beforehand."""

import io

import pytest
from PIL import Image, ImageFile

from decor.pictures import MAX_BYTES, PictureRefused, logo_read, photo_read
from tests.decor.pictures import (
    GPS_TAG,
    SVG,
    bytes_named,
    camera_notes,
    image_file,
    png_that_claims,
)
from tests.quoting.palette.photos import saved, swapped_red_and_green

HOSTILE = {
    "text named .jpg": lambda: bytes_named("a.jpg", b"not a picture at all"),
    "nothing in it": lambda: bytes_named("a.jpg", b""),
    "half a JPEG": lambda: bytes_named("a.jpg", image_file(size=(900, 900)).read()[:700]),
    "half a PNG": lambda: bytes_named(
        "a.png", image_file(file_format="PNG", size=(300, 300)).read()[:120]
    ),
    "TIFF named .jpg": lambda: image_file("a.jpg", file_format="TIFF"),
    "GIF named .jpg": lambda: image_file("a.jpg", file_format="GIF"),
    "ICO named .png": lambda: image_file("a.png", file_format="ICO"),
    "SVG": lambda: bytes_named("a.svg", SVG),
    "SVG named .png": lambda: bytes_named("a.png", SVG),
    "30,000 by 30,000": lambda: bytes_named("a.png", png_that_claims(30_000, 30_000)),
    "8,000 by 8,000": lambda: bytes_named("a.png", png_that_claims(8_000, 8_000)),
    "a header and nothing after": lambda: bytes_named("a.png", png_that_claims(4_000, 4_000)),
}


@pytest.mark.parametrize("make", HOSTILE.values(), ids=HOSTILE.keys())
@pytest.mark.parametrize("read", [photo_read, logo_read])
def test_a_file_that_is_no_sound_picture_is_refused_by_its_name(read, make, monkeypatch):
    monkeypatch.setattr(ImageFile, "LOAD_TRUNCATED_IMAGES", True)  # as WeasyPrint leaves it
    upload = make()
    with pytest.raises(PictureRefused) as refused:
        read(upload, longest_px=2000)
    assert upload.name in str(refused.value)


def test_a_file_over_twenty_megabytes_is_refused_unread():
    heavy = bytes_named("a.jpg", b"x" * (MAX_BYTES + 1))
    with pytest.raises(PictureRefused, match="over 20 MB"):
        photo_read(heavy, longest_px=2000)


@pytest.mark.parametrize("file_format", ["JPEG", "PNG", "WEBP"])
def test_a_photo_of_a_known_format_becomes_a_jpeg(file_format):
    photo = photo_read(image_file(file_format=file_format), longest_px=2000)
    written = Image.open(io.BytesIO(photo.data))
    assert (written.format, written.size, photo.suffix) == ("JPEG", (60, 40), ".jpg")
    assert (photo.width_px, photo.height_px) == (60, 40)


def test_a_large_photo_shrinks_in_proportion():
    photo = photo_read(image_file(size=(4000, 3000)), longest_px=2000)
    assert (photo.width_px, photo.height_px) == (2000, 1500)


def test_a_photo_lying_on_its_side_is_set_upright_and_forgets_where_it_was_taken():
    upload = image_file(size=(60, 40), exif=camera_notes())
    assert GPS_TAG in Image.open(io.BytesIO(upload.read())).getexif()
    upload.seek(0)
    photo = photo_read(upload, longest_px=2000)
    assert (photo.width_px, photo.height_px) == (40, 60)
    assert not Image.open(io.BytesIO(photo.data)).getexif()


def test_a_photo_that_can_be_seen_through_lies_on_white():
    clear = image_file(file_format="PNG", mode="RGBA", colour=(255, 0, 0, 0))
    written = Image.open(io.BytesIO(photo_read(clear, longest_px=2000).data))
    assert min(written.getpixel((30, 20))) >= 250  # JPEG rounds a little


@pytest.mark.parametrize(
    ("mode", "colour", "written_as"),
    [("RGBA", (255, 0, 0, 0), "PNG"), ("RGB", "plum", "JPEG")],
)
def test_a_logo_keeps_what_can_be_seen_through(mode, colour, written_as):
    upload = image_file("logo.png", file_format="PNG", mode=mode, colour=colour)
    logo = logo_read(upload, longest_px=1200)
    assert Image.open(io.BytesIO(logo.data)).format == written_as


def test_a_kept_picture_is_named_at_random():
    photo = photo_read(image_file("../../etc/passwd.jpg"), longest_px=2000)
    names = {photo.as_file().name, photo.as_file().name}
    assert len(names) == 2
    assert all("passwd" not in name and name.endswith(".jpg") for name in names)


def test_colours_stay_when_the_camera_s_profile_goes():
    """A phone's file may count in a wider colour space; read as sRGB it would look dull."""
    red = Image.new("RGB", (60, 40), "#ff0000")
    upload = bytes_named("wide.png", saved(red, icc_profile=swapped_red_and_green()))
    for read in (photo_read, logo_read):
        picture = Image.open(io.BytesIO(read(upload, longest_px=50).data))
        assert "icc_profile" not in picture.info
        # 6 codes: colour management works with tables, and JPEG rounds.
        assert picture.getpixel((9, 9)) == pytest.approx((0, 255, 0), abs=6)
        upload.seek(0)
