"""Text and numbers that are safe and short in an SVG."""

import re
from typing import Final
from xml.sax.saxutils import escape, quoteattr

# What XML 1.0 cannot hold in any form: most controls, halves of surrogate pairs.
_UNHOLDABLE: Final = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


_PLAIN_ID: Final = re.compile(r"[A-Za-z][A-Za-z0-9_-]*")


def plain_id(value: str) -> str:
    """An id goes unescaped into `url(#...)`, so only plain ones are taken."""
    if not _PLAIN_ID.fullmatch(value):
        raise ValueError(f"not a plain id: {value!r}")
    return value


def text(value: str) -> str:
    return escape(_UNHOLDABLE.sub("\ufffd", value))


def attribute(value: str) -> str:
    """With its quotes."""
    return quoteattr(_UNHOLDABLE.sub("\ufffd", value))


def mm(value: float) -> str:
    """To a tenth of a millimetre."""
    short = f"{value:.1f}".removesuffix(".0")
    return "0" if short == "-0" else short
