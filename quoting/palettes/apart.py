"""Which colours of a palette are hard to tell apart, and for whom, in words."""

from collections.abc import Mapping
from typing import Final

from quoting.estimator.palette import FallTogether, kept_apart
from quoting.pieces.words import said

FOR_SOME: Final = "for people with a common colour-vision deficiency"
FOR_ALL: Final = "for everybody"
WHAT_TO_DO: Final = "Keep a third colour between them, or leave one out."


def apart_sentences(hexes: Mapping[str, str]) -> tuple[str, ...]:
    """A sentence for each pair and each who cannot tell it; none is well."""
    return tuple(f"{each.in_words[:1].upper()}{each.in_words[1:]}." for each in kept_apart(hexes))


def apart_line(hexes: Mapping[str, str]) -> str:
    """A line or two for where there is little room; empty is well."""
    found = kept_apart(hexes)
    lines = [
        f"Hard to tell apart {for_whom}: {said(pairs)}."
        for for_whom, pairs in (
            (FOR_ALL, _pairs(found, for_all=True)),
            (FOR_SOME, _pairs(found, for_all=False)),
        )
        if pairs
    ]
    return " ".join([*lines, WHAT_TO_DO]) if lines else ""


def _pairs(found: tuple[FallTogether, ...], *, for_all: bool) -> list[str]:
    pairs = [
        f"{each.first} with {each.second}" for each in found if (each.deficiency is None) is for_all
    ]
    return list(dict.fromkeys(pairs))
