"""What a step of the making sheet is called where it is counted.

A key says by itself which balloons a count takes, so that stock follows counts even of a step
that is on no sheet any more: `12:base:oat:11` are 11-inch oat balloons of the base of piece 12.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from inventory.models.item import Kind
from quoting.estimator.constants import STARBURST_POINTS


class Work(StrEnum):
    BASE = "base"
    FILLER = "filler"
    ACCENT = "accent"
    SINGLE = "single"
    STARBURST = "starburst"
    CLUSTER = "cluster"
    MINI = "mini"
    BUNCH = "bunch"
    PACK = "pack"


INFLATED: Final = frozenset({Work.BASE, Work.FILLER, Work.ACCENT, Work.SINGLE})
POINTS: Final = int(STARBURST_POINTS.value)

# As a colour's key is made.
_SLUG: Final = re.compile(r"[-a-zA-Z0-9_]{1,40}")

ItemKey = tuple[str, str, int | None]
"""Kind, colour's key, nominal size in inches."""


@dataclass(frozen=True)
class StepKey:
    """`size` is a nominal size in inches; of `pack`, the bag's number."""

    work: Work
    piece: int = 0
    colour: str = ""
    size: int | None = None

    def __str__(self) -> str:
        if self.work is Work.PACK:
            return f"{Work.PACK}:{self.size}"
        parts = [str(self.piece), str(self.work), self.colour]
        return ":".join([*parts, str(self.size)] if self.size is not None else parts)

    @property
    def item(self) -> ItemKey | None:
        """The balloons that it takes from the shelf; none where they were taken before."""
        if self.work in INFLATED:
            return Kind.LATEX, self.colour, self.size
        if self.work is Work.STARBURST:
            return Kind.FOIL, self.colour, None
        return None

    @property
    def balloons(self) -> int:
        """Taken by each one that is counted."""
        if self.work is Work.STARBURST:
            return POINTS
        return 1 if self.work in INFLATED else 0


def step_key(text: str) -> StepKey | None:
    """None where it is no key of ours."""
    parts = text.split(":")
    try:
        if parts[0] == Work.PACK and len(parts) == 2:
            return StepKey(Work.PACK, size=int(parts[1]))
        piece, work, colour, *size = parts
        if not _SLUG.fullmatch(colour) or len(size) > 1:
            return None
        return StepKey(Work(work), int(piece), colour, int(size[0]) if size else None)
    except (ValueError, IndexError):
        return None


def items_in(steps: Iterable[str]) -> set[ItemKey]:
    keys = (step_key(text) for text in steps)
    return {key.item for key in keys if key is not None and key.item is not None}


def balloons_by_item(counts: Mapping[str, int]) -> dict[ItemKey, int]:
    """How many balloons the counted steps are made of. Fewer than none are none."""
    found: dict[ItemKey, int] = {}
    for text, count in counts.items():
        key = step_key(text)
        if key is not None and key.item is not None:
            found[key.item] = found.get(key.item, 0) + max(0, count) * key.balloons
    return found
