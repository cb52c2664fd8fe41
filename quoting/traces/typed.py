"""What is typed or tapped for a trace: names of its fields, and how they come from a request."""

import re
from collections.abc import Mapping
from itertools import chain
from typing import Final

from decor.models.business import Units
from quoting.models.traced_photo import Known
from quoting.pieces.measures import MOST_POINTS

Typed = Mapping[str, str]
Pair = tuple[str, str]

MARKS: Final = {Known.RECTANGLE: ("corner", 4), Known.LENGTH: ("end", 2)}
SIZES: Final = {Known.RECTANGLE: ("width", "height"), Known.LENGTH: ("length",)}
TAP: Final = "tap"
# A piece is led over no more points than this.
MOST_TAPS: Final = MOST_POINTS
# Beyond what is allowed, so that a long paste is refused with nothing lost.
MOST_TAPS_KEPT: Final = 200
_LONGEST: Final = 60

# The usual door leaf of a house: common practice, no source.
_DOOR: Final = {Units.IMPERIAL: ("3 ft", "6 ft 8 in"), Units.METRIC: ("0.91 m", "2.03 m")}
_TAP_NAME = re.compile(rf"{TAP}_(\d{{1,3}})_[xy]")


def typed_at_first(units: str) -> Typed:
    width, height = _DOOR[Units(units)]
    return {"known": Known.RECTANGLE.value, "width": width, "height": height}


def typed_of(posted: Mapping[str, str]) -> Typed:
    """The fields that are ours, with the taps moved up into rows that were left empty."""
    taps = [pair for row in range(1, taps_in(posted) + 1) if any(pair := _pair(posted, TAP, row))]
    names = ("known", *chain.from_iterable(SIZES.values()))
    typed = {name: _clean(posted[name]) for name in names if name in posted}
    for mark, count in MARKS.values():
        for row in range(1, count + 1):
            typed |= _named(mark, row, _pair(posted, mark, row))
    for row, pair in enumerate(taps, start=1):
        typed |= _named(TAP, row, pair)
    return typed


def taps_in(typed: Mapping[str, str]) -> int:
    """The last row in which there is a tap."""
    found = (_TAP_NAME.fullmatch(name) for name in typed if typed[name])
    return min(max((int(tap[1]) for tap in found if tap), default=0), MOST_TAPS_KEPT)


def point_names(what: str, row: int) -> Pair:
    return f"{what}_{row}_x", f"{what}_{row}_y"


def _pair(typed: Mapping[str, str], what: str, row: int) -> Pair:
    across, down = (_clean(typed.get(name, "")) for name in point_names(what, row))
    return across, down


def _named(what: str, row: int, pair: Pair) -> dict[str, str]:
    return {name: text for name, text in zip(point_names(what, row), pair, strict=True) if text}


def _clean(text: str) -> str:
    """PostgreSQL cannot hold NUL in text, and nobody can type it."""
    return text.replace("\0", "").strip()[:_LONGEST]
