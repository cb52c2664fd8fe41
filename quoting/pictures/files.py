"""A picture as a file to keep or send: PNG by way of the one maker of PDFs."""

import re
from io import BytesIO
from typing import Final

import pypdfium2

from decor.documents.pdf import drawing_pdf

# On a phone as sharp as its screen, and a few hundred kilobytes to send.
LONGEST_PX: Final = 2000
_BOX = re.compile(r'viewBox="(\S+) (\S+) (\S+) (\S+)"')
_PAGE_MM: Final = 300.0


def png_of(svg: str) -> bytes:
    wide, high = _size(svg)
    scale = _PAGE_MM / max(wide, high)
    pdf = pypdfium2.PdfDocument(drawing_pdf(svg, width_mm=wide * scale, height_mm=high * scale))
    try:
        page = pdf[0]
        image = page.render(scale=LONGEST_PX / max(page.get_size())).to_pil()
    finally:
        pdf.close()
    out = BytesIO()
    image.convert("RGB").save(out, format="PNG")
    return out.getvalue()


def _size(svg: str) -> tuple[float, float]:
    found = _BOX.search(svg)
    if found is None:
        raise ValueError("an SVG without a viewBox has no size")
    _, _, wide, high = map(float, found.groups())
    return wide, high
