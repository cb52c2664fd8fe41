"""Pictures from outside: opened with care and written anew, so that nothing else rides along."""

import io
import secrets
from dataclasses import dataclass
from typing import BinaryIO

from django.core.files.base import ContentFile
from django.core.files.uploadedfile import UploadedFile
from PIL import Image, ImageFile, ImageOps

from quoting.estimator.palette.photo import in_srgb

READABLE = ("JPEG", "PNG", "WEBP")
ACCEPT = "image/jpeg,image/png,image/webp"  # makes a phone hand over its own format as JPEG
MAX_BYTES = 20 * 1024 * 1024
# A 48-megapixel phone photo passes. More would take over 200 MB to decode: see `picture_read`.
MAX_PIXELS = 50_000_000
JPEG_QUALITY = 85

NOT_READABLE = "“{name}” is not a picture we can read. Use JPEG, PNG or WebP."
TOO_HEAVY = "“{name}” is over 20 MB. Send a smaller copy."
TOO_MANY_PIXELS = "“{name}” has more than 50 million pixels. Send a smaller copy."


class PictureRefused(Exception):
    """The message is for the owner to read."""


@dataclass(frozen=True)
class Picture:
    data: bytes
    suffix: str
    width_px: int
    height_px: int

    def as_file(self) -> ContentFile:
        """Named at random: a name from outside could be anything."""
        return ContentFile(self.data, name=secrets.token_hex(16) + self.suffix)


def photo_read(upload: UploadedFile, *, longest_px: int) -> Picture:
    """A JPEG, upright, no longer than asked, without the camera's notes on where and when."""
    image = _opened(upload, longest_px=longest_px)
    return _written(_on_white(image), file_format="JPEG", suffix=".jpg")


def logo_read(upload: UploadedFile, *, longest_px: int) -> Picture:
    """As a photo, but what can be seen through stays so, as PNG."""
    image = _opened(upload, longest_px=longest_px)
    if image.has_transparency_data:
        return _written(image.convert("RGBA"), file_format="PNG", suffix=".png")
    return _written(image.convert("RGB"), file_format="JPEG", suffix=".jpg")


def picture_small(kept: BinaryIO, *, longest_px: int) -> bytes:
    """A JPEG of a photo that we keep. A quarter of the size is read straight from the file."""
    image = Image.open(kept, formats=["JPEG"])
    image.draft("RGB", (longest_px, longest_px))
    image.thumbnail((longest_px, longest_px))
    return _written(image, file_format="JPEG", suffix=".jpg").data


def _opened(upload: UploadedFile, *, longest_px: int) -> Image.Image:
    name = _short(upload.name or "file")
    if upload.size > MAX_BYTES:
        raise PictureRefused(TOO_HEAVY.format(name=name))
    try:
        return _decoded(upload, longest_px=longest_px, name=name)
    except Image.DecompressionBombError:
        raise PictureRefused(TOO_MANY_PIXELS.format(name=name)) from None
    # What Pillow raises on a broken file differs by format: all of it means the same here.
    except (OSError, SyntaxError, ValueError, EOFError, IndexError):
        raise PictureRefused(NOT_READABLE.format(name=name)) from None


def _decoded(upload: UploadedFile, *, longest_px: int, name: str) -> Image.Image:
    # WeasyPrint, once imported, lets half a file pass for the whole process.
    ImageFile.LOAD_TRUNCATED_IMAGES = False
    image = Image.open(upload.file, formats=READABLE)
    # Before anything is decoded: a 17 kB file can ask for 0.7 GB.
    if image.width * image.height > MAX_PIXELS:
        raise PictureRefused(TOO_MANY_PIXELS.format(name=name))
    image.draft("RGB", (longest_px, longest_px))  # a JPEG decodes straight to a smaller size
    image.load()
    image = ImageOps.exif_transpose(image)
    image.thumbnail((longest_px, longest_px))
    return in_srgb(image)  # the profile goes with the notes, and the colours must not go dull


def _on_white(image: Image.Image) -> Image.Image:
    if not image.has_transparency_data:
        return image.convert("RGB")
    seen = image.convert("RGBA")
    paper = Image.new("RGB", seen.size, "white")
    paper.paste(seen, mask=seen.getchannel("A"))
    return paper


def _written(image: Image.Image, *, file_format: str, suffix: str) -> Picture:
    out = io.BytesIO()
    image.info = {}  # the camera's notes
    image.save(out, format=file_format, quality=JPEG_QUALITY, optimize=True)
    return Picture(data=out.getvalue(), suffix=suffix, width_px=image.width, height_px=image.height)


def _short(name: str) -> str:
    return name if len(name) <= 40 else f"{name[:30]}…{name[-8:]}"
