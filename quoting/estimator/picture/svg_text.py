"""Text and numbers that are safe and short in an SVG."""

import re
from typing import Final
from xml.sax.saxutils import escape, quoteattr

# What XML 1.0 cannot hold in any form: most controls, halves of surrogate pairs.
_UNHOLDABLE: Final = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def text(value: str) -> str:
    return escape(_UNHOLDABLE.sub("\ufffd", value))


def attribute(value: str) -> str:
    """With its quotes."""
    return quoteattr(_UNHOLDABLE.sub("\ufffd", value))


def mm(value: float) -> str:
    """To a tenth of a millimetre."""
    short = f"{value:.1f}".removesuffix(".0")
    return "0" if short == "-0" else short
