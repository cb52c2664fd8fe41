"""Colours as people type them: `#e8dcc6`, `e8dcc6`, `#edc`, `rgb(232, 220, 198)`."""

import re
from typing import Final

from ..problems import Problem
from ..shapes import shown
from .problems import ColourError

MOST_TYPED: Final = 24
_HEX: Final = re.compile(r"#?(?:[0-9a-f]{3}|[0-9a-f]{6})")
_NUMBER: Final = r"(\d{1,3}(?:\.\d{1,6})?%?)"
_RGB: Final = re.compile(rf"rgb\(\s*{_NUMBER}[\s,]+{_NUMBER}[\s,]+{_NUMBER}\s*\)")
_EACH: Final = re.compile(r"rgba?\([^)]*\)?|[^\s,;]+", re.IGNORECASE)
ALLOWED: Final = "a colour such as #e8dcc6 or rgb(232, 220, 198)"


def parse_colour(text: str, *, key: str = "colour") -> str:
    """To `#rrggbb` in small letters; ColourError says what is allowed."""
    plain = text.strip().lower()
    if _HEX.fullmatch(plain):
        digits = plain.removeprefix("#")
        return "#" + (digits if len(digits) == 6 else "".join(2 * digit for digit in digits))
    parts = _RGB.fullmatch(plain)
    if not parts:
        raise ColourError([Problem(key, f"must be {ALLOWED}, not {shown(text)}")])
    channels = [_channel(part) for part in parts.groups()]
    if max(channels) > 255:
        allowed = "rgb() takes three numbers from 0 to 255, or 0% to 100%"
        raise ColourError([Problem(key, f"{allowed}, not {shown(text)}")])
    return "#" + "".join(f"{channel:02x}" for channel in channels)


def parse_colours(text: str, *, key: str = "colours") -> tuple[str, ...]:
    """A few colours parted by commas, spaces or lines; ColourError names each bad one."""
    words = _EACH.findall(text)
    if not 1 <= len(words) <= MOST_TYPED:
        raise ColourError([Problem(key, f"type 1 to {MOST_TYPED} colours: {ALLOWED}")])
    colours: dict[str, None] = {}
    problems: list[Problem] = []
    for i, word in enumerate(words):
        try:
            colours[parse_colour(word, key=f"{key}[{i}]")] = None
        except ColourError as refused:
            problems.extend(refused.problems)
    if problems:
        raise ColourError(problems)
    return tuple(colours)


def _channel(part: str) -> int:
    per_cent = part.endswith("%")
    value = float(part.rstrip("%"))
    return round(value * 255 / 100 if per_cent else value)
