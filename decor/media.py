"""How kept pictures are sent: never as anything but a picture, and to no page's harm."""

from pathlib import PurePath

from django.db.models.fields.files import FieldFile
from django.http import FileResponse, Http404

CONTENT_TYPES = {".jpg": "image/jpeg", ".png": "image/png"}


def picture_response(image: FieldFile) -> FileResponse:
    """The type comes from the name that we gave the file ourselves."""
    try:
        opened = image.storage.open(image.name)
    except FileNotFoundError:
        raise Http404 from None
    response = FileResponse(opened, content_type=CONTENT_TYPES[PurePath(image.name).suffix])
    response["X-Content-Type-Options"] = "nosniff"
    response["Content-Security-Policy"] = "default-src 'none'; sandbox"
    response["Cache-Control"] = "private, max-age=86400"
    return response
