"""Picture files as they come from outside, good and hostile."""

import io
import struct
import zlib

from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

GPS_TAG, ORIENTATION_TAG, TURN_RIGHT = 0x8825, 0x0112, 6


def image_file(
    name: str = "porch.jpg",
    *,
    file_format: str = "JPEG",
    size: tuple[int, int] = (60, 40),
    mode: str = "RGB",
    colour: object = "seagreen",
    exif: Image.Exif | None = None,
) -> SimpleUploadedFile:
    out = io.BytesIO()
    extra = {"exif": exif} if exif else {}
    Image.new(mode, size, colour).save(out, format=file_format, **extra)
    return SimpleUploadedFile(name, out.getvalue(), content_type="image/jpeg")


def bytes_named(name: str, data: bytes) -> SimpleUploadedFile:
    return SimpleUploadedFile(name, data, content_type="image/jpeg")


def png_that_claims(width: int, height: int) -> bytes:
    """A whole, valid PNG of a few dozen kilobytes whose header asks for any size."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        check = struct.pack(">I", zlib.crc32(kind + data))
        return struct.pack(">I", len(data)) + kind + data + check

    header = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    rows = zlib.compress(b"\0" * 10_000)
    return (
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", rows) + chunk(b"IEND", b"")
    )


def camera_notes() -> Image.Exif:
    """What a phone adds: where it was, and that the picture lies on its side."""
    notes = Image.Exif()
    notes[ORIENTATION_TAG] = TURN_RIGHT
    notes.get_ifd(GPS_TAG)[1] = "N"
    return notes


SVG = b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'
