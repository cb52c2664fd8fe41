"""What a document may fetch: our fonts, styles and logo, and nothing else from anywhere."""

import hashlib
import io
from collections.abc import Iterator
from urllib.request import HTTPRedirectHandler

import pytest
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from pypdf import PdfReader
from weasyprint import HTML
from weasyprint.urls import FatalURLFetchingError

from decor.documents.fetcher import AppFetcher, FetchRefused, media_url, static_url
from tests.decor.documents.listener import Listener


@pytest.fixture
def listener() -> Iterator[Listener]:
    listener = Listener()
    yield listener
    listener.server.shutdown()
    listener.server.server_close()


@pytest.mark.parametrize(
    "url",
    [
        "file:///etc/passwd",
        "FILE:///etc/passwd.png",
        "http://127.0.0.1:9/logo.png",
        "https://example.org/logo.png",
        "ftp://127.0.0.1/logo.png",
        "data:image/png;base64,AAAA",
        "app:static/decor/../../settings.css",
        "app:static/decor/%2e%2e/%2e%2e/settings.css",
        "app:static/css/bootstrap.min.css",
        "app:static/decor/keep.js",
        "app:static/decor/no-such-file.css",
        "app:media/job-photos/porch.png",
        "app:media/logo/../../garlandwright.png",
        "app:media/logo/..%2f..%2fsecret.png",
        "app:/etc/passwd",
        "app://host/static/decor/documents.css",
        "logo.png",
        "",
    ],
)
def test_an_address_that_is_not_ours_is_refused(url: str) -> None:
    with pytest.raises((FetchRefused, FileNotFoundError)):
        AppFetcher().fetch(url)


def test_a_web_address_is_refused_before_anybody_is_asked(listener: Listener) -> None:
    with pytest.raises(FetchRefused):
        AppFetcher().fetch(f"{listener.url}/logo.png")

    assert listener.asked == []


def test_redirects_are_off() -> None:
    handlers = [type(handler) for handler in AppFetcher().handlers]

    assert HTTPRedirectHandler not in handlers


@pytest.mark.parametrize(
    ("path", "content_type"),
    [
        ("decor/documents.css", "text/css"),
        ("decor/document-string.svg", "image/svg+xml"),
        ("fonts/source-serif/SourceSerifPro-Semibold.otf", "font/otf"),
        ("fonts/hanken-grotesk/HankenGrotesk-Medium.otf", "font/otf"),
    ],
)
def test_our_own_styles_and_fonts_are_served(path: str, content_type: str) -> None:
    answer = AppFetcher().fetch(static_url(path))

    assert answer.content_type == content_type
    assert answer.read()


def test_the_logo_is_served() -> None:
    name = default_storage.save("logo/mark.png", ContentFile(b"a picture"))

    answer = AppFetcher().fetch(media_url(name))

    assert (answer.content_type, answer.read()) == ("image/png", b"a picture")


def test_a_photo_is_served_only_to_the_document_that_names_it() -> None:
    name = default_storage.save("job-photos/porch.jpg", ContentFile(b"a porch"))
    sha256 = hashlib.sha256(b"a porch").hexdigest()

    answer = AppFetcher({name: sha256}).fetch(media_url(name))

    assert (answer.content_type, answer.read()) == ("image/jpeg", b"a porch")
    with pytest.raises(FetchRefused):
        AppFetcher().fetch(media_url(name))
    with pytest.raises(FetchRefused):
        AppFetcher({name: sha256}).fetch(media_url("job-photos/another.jpg"))


def test_a_photo_that_is_not_the_same_any_more_stops_the_document() -> None:
    name = default_storage.save("job-photos/porch.jpg", ContentFile(b"another porch"))

    with pytest.raises(FetchRefused, match="is not the one"):
        AppFetcher({name: hashlib.sha256(b"a porch").hexdigest()})


@pytest.mark.parametrize(
    "html",
    [
        '<img src="{url}/a.png">',
        '<link rel="stylesheet" href="{url}/a.css">',
        '<link rel="attachment" href="{url}/a.txt">',
        '<style>@import "{url}/a.css";</style>',
        '<p style="background: url({url}/a.png)">.</p>',
        "<style>@font-face {{ font-family: a; src: url({url}/a) }} p {{ font: 1em a }}</style><p>a",
        '<svg xmlns="http://www.w3.org/2000/svg"><image href="{url}/a.png"/></svg>',
        '<object data="{url}/a.png"></object>',
        '<embed src="{url}/a.png">',
        '<img src="file:///etc/passwd">',
        '<link rel="attachment" href="file:///etc/passwd">',
    ],
)
def test_even_hostile_markup_fetches_nothing(html: str, listener: Listener) -> None:
    """Markup never reaches a document unescaped; this is the second wall."""
    page = HTML(string=html.format(url=listener.url), url_fetcher=AppFetcher())

    try:
        pdf = page.write_pdf()
    except FatalURLFetchingError:
        pdf = b""

    assert listener.asked == []
    assert b"root:" not in pdf
    assert not pdf or not PdfReader(io.BytesIO(pdf)).attachments


def test_a_missing_style_is_an_error_and_not_an_ugly_quote() -> None:
    with pytest.raises(FatalURLFetchingError):
        HTML(
            string='<link rel="stylesheet" href="app:static/decor/gone.css">',
            url_fetcher=AppFetcher(),
        ).write_pdf()
