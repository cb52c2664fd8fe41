"""Which colours of a palette fall together for people with a colour-vision deficiency.

Simulated by coloraide after H. Brettel, F. Vienot, J. Mollon, *Journal of the Optical
Society of America A* 14(10), 1997, for people who lack one kind of cone altogether; those
who have a weak one see something in between.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from itertools import combinations
from typing import Final

from coloraide import Color

from .difference import NEAR_UP_TO, TOLD_APART_FROM, delta_e, lab_of, lab_of_hex
from .light import Lab


class Deficiency(StrEnum):
    PROTAN = "protan"
    DEUTAN = "deutan"
    TRITAN = "tritan"


# From memory, and as many pages on colour vision have it; of northern European descent,
# fewer elsewhere. Weak cones of the same kinds are commoner: some 1 and 5 men in 100.
_TO_WHOM: Final = {
    Deficiency.PROTAN: "about 1 man in 100, who sees no red (protanopia)",
    Deficiency.DEUTAN: "about 1 man in 100, who sees no green (deuteranopia)",
    Deficiency.TRITAN: "about 1 person in 10,000, who sees no blue (tritanopia)",
}


@dataclass(frozen=True, kw_only=True)
class FallTogether:
    """`deficiency` None: to everybody. `delta_e` is CIEDE2000 as they see the two."""

    first: str
    second: str
    deficiency: Deficiency | None
    delta_e: float
    in_words: str


def kept_apart(
    colours: Mapping[str, str], *, deficiencies: Iterable[Deficiency] = tuple(Deficiency)
) -> tuple[FallTogether, ...]:
    """The pairs of a palette, name to `#rrggbb`, that are not kept apart; empty is well."""
    kinds = tuple(deficiencies)
    return tuple(
        found for pair in combinations(colours, 2) for found in _together(colours, pair, kinds)
    )


def _together(
    colours: Mapping[str, str], pair: tuple[str, str], kinds: Iterable[Deficiency]
) -> Iterator[FallTogether]:
    first, second = pair
    plain = delta_e(lab_of_hex(colours[first]), lab_of_hex(colours[second]))
    if plain < TOLD_APART_FROM:
        yield _found(pair, None, plain)
        return
    for kind in kinds:
        seen = delta_e(seen_as(colours[first], kind), seen_as(colours[second], kind))
        if seen < TOLD_APART_FROM:
            yield _found(pair, kind, seen)


def _found(pair: tuple[str, str], deficiency: Deficiency | None, distance: float) -> FallTogether:
    first, second = pair
    to_whom = _TO_WHOM[deficiency] if deficiency else "everybody"
    how = "look alike to" if distance <= NEAR_UP_TO else "are hard to tell apart for"
    return FallTogether(
        first=first,
        second=second,
        deficiency=deficiency,
        delta_e=distance,
        in_words=f"{first} and {second} {how} {to_whom}",
    )


@lru_cache(maxsize=4096)
def seen_as(hex_value: str, deficiency: Deficiency) -> Lab:
    """CIELAB of what somebody with the deficiency sees in that colour."""
    seen = Color(hex_value).filter(deficiency.value, method="brettel")
    return lab_of(seen.convert("srgb").clip())
