"""Opening a photo that somebody else chose: few formats, few pixels, upright, in sRGB."""

from contextlib import suppress
from io import BytesIO
from os import PathLike
from typing import BinaryIO, Final

from PIL import Image, ImageCms, ImageFile, ImageOps

from ..problems import Problem
from .problems import PhotoError

FORMATS: Final = ("JPEG", "PNG", "WEBP")
MOST_PIXELS: Final = 40_000_000  # a small file can decode to far more than it weighs
PhotoSource = bytes | str | PathLike[str] | BinaryIO | Image.Image

UNREADABLE: Final = "cannot be read as a photo: use a JPEG, PNG or WebP file"
TOO_LARGE: Final = f"has too many pixels: at most {MOST_PIXELS // 1_000_000} million"
TOO_DEEP: Final = "has 16 bits a channel: save it with 8, as a JPEG does"
_PLAIN: Final = frozenset({"L", "LA", "RGB", "RGBA", "CMYK"})
_DEEP: Final = frozenset({"I", "F", "I;16", "I;16B", "I;16L", "I;16N"})
_BROKEN: Final = (OSError, SyntaxError, ValueError, EOFError, Image.DecompressionBombError)


def open_photo(source: PhotoSource, *, at_least: int | None = None) -> Image.Image:
    """Upright, RGB or RGBA, in sRGB. `at_least`: the longer side in pixels that is enough.

    With `at_least` a JPEG is decoded at a fraction of its size, which is many times faster.
    """
    # WeasyPrint, once imported, lets half a file pass for the whole process.
    ImageFile.LOAD_TRUNCATED_IMAGES = False
    image = source if isinstance(source, Image.Image) else _opened(source)
    if image.width * image.height > MOST_PIXELS:
        raise _refused(TOO_LARGE)
    if image.mode in _DEEP:
        raise _refused(TOO_DEEP)
    try:
        return _upright(image, at_least)
    except _BROKEN as error:
        raise _refused(UNREADABLE) from error


def _opened(source: bytes | str | PathLike[str] | BinaryIO) -> Image.Image:
    try:
        return Image.open(BytesIO(source) if isinstance(source, bytes) else source, formats=FORMATS)
    except Image.DecompressionBombError as error:
        raise _refused(TOO_LARGE) from error
    except _BROKEN as error:
        raise _refused(UNREADABLE) from error


def _upright(image: Image.Image, at_least: int | None) -> Image.Image:
    if at_least:
        image.draft(None, (at_least, at_least))
    upright = ImageOps.exif_transpose(image)
    if upright.mode not in _PLAIN:
        upright = upright.convert("RGBA" if upright.has_transparency_data else "RGB")
    return in_srgb(_shrunk(upright, at_least) if at_least else upright)


def _shrunk(image: Image.Image, at_least: int) -> Image.Image:
    times = max(image.size) // at_least
    return image.reduce(times) if times > 1 else image


def in_srgb(image: Image.Image) -> Image.Image:
    """By the profile within: a phone may save wider colours, which look dull without it."""
    profile = image.info.get("icc_profile")
    if profile and image.mode != "LA":
        opaque = image.convert("RGB") if image.mode == "RGBA" else image
        with suppress(ImageCms.PyCMSError, *_BROKEN):
            true = ImageCms.profileToProfile(
                opaque, BytesIO(profile), ImageCms.createProfile("sRGB"), outputMode="RGB"
            )
            if image.mode == "RGBA":
                true.putalpha(image.getchannel("A"))
            return true
    return image.convert("RGBA" if image.has_transparency_data else "RGB")


def _refused(message: str) -> PhotoError:
    return PhotoError([Problem("photo", message)])
