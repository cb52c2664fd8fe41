"""Codes that a camera reads, drawn into pages and papers."""

import segno
from django.utils.safestring import SafeString, mark_safe


def code_svg(code: segno.QRCode, *, css_class: str) -> SafeString:
    """With its own quiet edge. Made of digits and fixed words alone: nothing of what the code
    holds is in it as text."""
    return mark_safe(code.svg_inline(border=4, omitsize=True, svgclass=css_class, lineclass=None))
