"""What strangers type, made harmless before it is kept: it will stand in letters and on pages."""

import unicodedata

# They turn the order of what follows, so that a name could look like another.
_TURNS_TEXT = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")


def one_line(text: str) -> str:
    """No line breaks, no control characters, single spaces: nothing to smuggle into a header."""
    return " ".join(_harmless(text, keep="").split())


def some_lines(text: str) -> str:
    """Line breaks stay."""
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    return _harmless(text, keep="\n").strip()


def _harmless(text: str, *, keep: str) -> str:
    return "".join(_shown(sign, keep) for sign in text)


def _shown(sign: str, keep: str) -> str:
    if sign in keep:
        return sign
    if unicodedata.category(sign) in ("Cc", "Zl", "Zp"):
        return " "
    return "" if sign in _TURNS_TEXT else sign
