"""Cells of a CSV that a spreadsheet would run as formulas, going out and coming in."""

import unicodedata

# Also full-width signs, which a spreadsheet reads as the plain ones: hence NFKC. The quote in
# front is what spreadsheets themselves use for "this is text" (OWASP, "CSV injection").
FORMULA_SIGNS = ("=", "+", "-", "@", "\t", "\r", "\n", "\0")
TEXT_SIGN = "'"


def is_formula(text: str) -> bool:
    plain = unicodedata.normalize("NFKC", text)
    return plain.startswith(FORMULA_SIGNS) or plain.strip().startswith(FORMULA_SIGNS)


def cell_out(text: str) -> str:
    return TEXT_SIGN + text if is_formula(text) else text


def cell_in(text: str) -> str:
    """What `cell_out` was given."""
    bare = text.removeprefix(TEXT_SIGN)
    return bare if bare != text and is_formula(bare) else text
