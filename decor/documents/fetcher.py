"""What a document may be made of: our fonts and styles, the business's logo and the very photos
that the document names. Nothing else."""

import hashlib
from collections.abc import Mapping
from pathlib import PurePosixPath
from urllib.parse import unquote

from django.contrib.staticfiles import finders
from django.core.files.storage import default_storage
from weasyprint.urls import URLFetcher, URLFetcherResponse

SCHEME = "app:"
STATIC = "static/"
MEDIA = "media/"
STATIC_FOLDERS = ("fonts/", "decor/", "inventory/", "quoting/")
MEDIA_FOLDERS = ("logo/",)
_TYPES = {
    ".css": "text/css",
    ".otf": "font/otf",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".jpg": "image/jpeg",
    ".webp": "image/webp",
}
NOT_OURS = "A document may only use our own fonts, styles, logo and named photos, not {url}."
NOT_THE_SAME = "The photo {name} is not the one that this document was made of."


class FetchRefused(ValueError):
    """The address is not one of ours."""


def static_url(path: str) -> str:
    return f"{SCHEME}{STATIC}{path}"


def media_url(name: str) -> str:
    return f"{SCHEME}{MEDIA}{name}"


class AppFetcher(URLFetcher):
    """Answers `app:static/...` and `app:media/...` from an allow-list, and touches nothing else.

    The parent's handlers for files and the network are never called: `fetch` is replaced whole.
    Redirects and other protocols are switched off there as well, in case a later version of it
    finds another way in. What is missing fails loudly: a quote in a wrong font is not ours.

    `photos` are the only other media it may open: names, each with its SHA-256 in hex. They are
    read at once, as WeasyPrint leaves a drawing out when a photo in it is refused later.
    """

    def __init__(self, photos: Mapping[str, str] | None = None) -> None:
        super().__init__(allowed_protocols={"app"}, allow_redirects=False, fail_on_errors=True)
        self.photos = {name: _photo(name, sha256) for name, sha256 in (photos or {}).items()}

    def fetch(self, url: str, headers: object = None) -> URLFetcherResponse:
        path = PurePosixPath(unquote(url.removeprefix(SCHEME)))
        content_type = _TYPES.get(path.suffix)
        if not url.startswith(SCHEME) or ".." in path.parts or content_type is None:
            raise FetchRefused(NOT_OURS.format(url=url))
        name = str(path).removeprefix(MEDIA)
        is_photo = str(path).startswith(MEDIA) and name in self.photos
        body = self.photos[name] if is_photo else _read(str(path), url)
        return URLFetcherResponse(url, body=body, headers={"Content-Type": content_type})


def _photo(name: str, sha256: str) -> bytes:
    with default_storage.open(name) as file:
        data = file.read()
    if hashlib.sha256(data).hexdigest() != sha256:
        raise FetchRefused(NOT_THE_SAME.format(name=name))
    return data


def _read(path: str, url: str) -> bytes:
    static, media = path.removeprefix(STATIC), path.removeprefix(MEDIA)
    if path.startswith(STATIC) and static.startswith(STATIC_FOLDERS):
        found = finders.find(static)
        if found:
            with open(found, "rb") as file:
                return file.read()
    if path.startswith(MEDIA) and media.startswith(MEDIA_FOLDERS):
        with default_storage.open(media) as file:
            return file.read()
    raise FetchRefused(NOT_OURS.format(url=url))
