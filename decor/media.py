"""How kept pictures are sent: never as anything but a picture, and to no page's harm."""

from pathlib import PurePath

from django.core.files import File
from django.db.models.fields.files import FieldFile
from django.http import FileResponse, Http404, HttpResponse
from django.http.response import HttpResponseBase

from decor.pictures import picture_small

CONTENT_TYPES = {".jpg": "image/jpeg", ".png": "image/png"}
SMALL_PX = 480  # a photo in a list is 9 to 15 rem wide, on screens of two dots to the pixel


def picture_response(image: FieldFile) -> FileResponse:
    """The type comes from the name that we gave the file ourselves."""
    opened = _opened(image)
    return _harmless(FileResponse(opened, content_type=CONTENT_TYPES[PurePath(image.name).suffix]))


def small_photo_response(image: FieldFile) -> HttpResponse:
    """For a list of photos: some 20 kB where the photo itself has 500."""
    with _opened(image) as kept:
        small = picture_small(kept, longest_px=SMALL_PX)
    return _harmless(HttpResponse(small, content_type="image/jpeg"))


def _opened(image: FieldFile) -> File:
    try:
        return image.storage.open(image.name)
    except FileNotFoundError:
        raise Http404 from None


def _harmless(response: HttpResponseBase) -> HttpResponseBase:
    response["X-Content-Type-Options"] = "nosniff"
    response["Content-Security-Policy"] = "default-src 'none'; sandbox"
    response["Cache-Control"] = "private, max-age=86400"
    return response
