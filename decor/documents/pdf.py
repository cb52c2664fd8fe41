"""The one place where a page becomes a PDF."""

import hashlib
from collections.abc import Mapping
from typing import Any

from django.template.loader import render_to_string
from weasyprint import CSS, HTML

from decor.documents.fetcher import AppFetcher, static_url
from decor.models.business import Paper

DRAWING_TYPEFACE = "Document Sans"
# Sharp on paper, and a photo of a phone is no longer most of the file.
PHOTO_DPI = 200
PAGE_SIZES = {Paper.A4: "A4", Paper.LETTER: "letter"}


def render_pdf(
    template: str,
    context: Mapping[str, Any],
    paper: str,
    *,
    photos: Mapping[str, str] | None = None,
) -> bytes:
    """A tagged PDF (PDF/UA-1). The same template, context and photos give the same bytes.

    `photos` are the media it may show besides the logo: by name, the SHA-256 of each.
    """
    html = render_to_string(template, dict(context))
    page = CSS(string=f"@page {{ size: {PAGE_SIZES[Paper(paper)]} }}")
    return HTML(string=html, url_fetcher=AppFetcher(photos)).write_pdf(
        stylesheets=[page],
        dpi=PHOTO_DPI,
        pdf_variant="pdf/ua-1",
        # Named after its contents and not after the moment, so that equal quotes are equal files.
        pdf_identifier=hashlib.sha256(html.encode()).digest()[:16],
    )


def drawing_pdf(svg: str, *, width_mm: float, height_mm: float) -> bytes:
    """One drawing of ours filling one page of its own size, written on in the documents' sans."""
    size = f"width: {width_mm:.2f}mm; height: {height_mm:.2f}mm"
    font = static_url("fonts/hanken-grotesk/HankenGrotesk-Medium.otf")
    css = (
        f'@font-face {{ font-family: "{DRAWING_TYPEFACE}"; src: url("{font}") }}'
        f"@page {{ size: {width_mm:.2f}mm {height_mm:.2f}mm; margin: 0 }}"
        f"body {{ margin: 0 }} svg {{ display: block; {size} }}"
    )
    # In the page, not beside it: a font is found only by the page that names it.
    html = f"<html><head><style>{css}</style></head><body>{svg}</body></html>"
    return HTML(string=html, url_fetcher=AppFetcher()).write_pdf()
