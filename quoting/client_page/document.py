"""An edition as its client reads it on a screen: the same words and pictures as on the PDF."""

from collections.abc import Callable
from typing import Any

from quoting.documents.picturing import Box
from quoting.documents.pieces import Medium
from quoting.documents.quote_document import quote_document
from quoting.models import Edition

# Millimetres, as on paper, but fewer: on a phone the measures beside a picture can still be read.
_ALONE = Box(84.0, 60.0)
_PHOTO = Box(84.0, 84.0)
_OPTION = Box(60.0, 48.0)


def screen(photo_url: Callable[[str], str]) -> Medium:
    return Medium(alone=_ALONE, photo=_PHOTO, options={2: _OPTION, 3: _OPTION}, photo_url=photo_url)


def edition_document(edition: Edition, *, photo_url: Callable[[str], str]) -> dict[str, Any]:
    return quote_document(
        edition.inputs,
        edition.result,
        edition=edition.number,
        made_on=None,
        medium=screen(photo_url),
    )
