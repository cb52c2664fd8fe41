"""What a client can tell two variants of a piece apart by: never counts, cost or hours."""

from collections.abc import Iterator, Sequence

from decor.display import length_text, percent_text
from quoting.documents.measures import Measure, thickness_text
from quoting.estimator import Catalogue, Spec
from quoting.estimator.spec import Backing, Pattern, Singles
from quoting.pieces.shelf import Shelf, shelf_of
from quoting.pieces.words import path_in_words, said

NONE = "None"
_PATTERNS = {
    Pattern.SPREAD: "Mixed all along",
    Pattern.BANDED: "In bands",
    Pattern.BLEND: "Running from one into the next",
}


def client_facts(spec: Spec, *, catalogue: Catalogue, units: str) -> tuple[Measure, ...]:
    """Always the same labels in the same order."""
    shelf = shelf_of(catalogue)
    return (
        Measure("Shape", path_in_words(spec.path, units)),
        Measure("Thickness", thickness_text(spec, units)),
        Measure("Back", "Flat" if spec.backing is Backing.FLAT else "Round on all sides"),
        Measure("Colours", _colours(spec, shelf)),
        Measure("Pattern", _PATTERNS[spec.pattern]),
        Measure("Balloons", _sizes(spec)),
        *_extras(spec, shelf, units),
    )


def differing(options: Sequence[tuple[Measure, ...]]) -> list[tuple[Measure, ...]]:
    """Of each option's facts those that are not the same for all of them."""
    differs = [len({fact.text for fact in facts}) > 1 for facts in zip(*options, strict=True)]
    return [
        tuple(fact for fact, is_other in zip(facts, differs, strict=True) if is_other)
        for facts in options
    ]


def _colours(spec: Spec, shelf: Shelf) -> str:
    parts = sorted(spec.base, key=lambda part: -part.share)
    if len(parts) == 1:
        return shelf.name_of(parts[0].colour)
    return ", ".join(
        f"{shelf.name_of(part.colour).lower()} {percent_text(round(part.share * 100) * 100)}"
        for part in parts
    ).capitalize()


def _sizes(spec: Spec) -> str:
    return said([f"{size.nominal_in:g}-inch" for size in spec.sizes])


def _extras(spec: Spec, shelf: Shelf, units: str) -> Iterator[Measure]:
    yield Measure("Large singles", _singles(spec.singles, shelf, units))
    yield Measure("Small clusters", _names(spec.fillers.colours, shelf) if spec.fillers else NONE)
    yield Measure("Accents", _names([accent.colour for accent in spec.accents], shelf))
    bursts = [f"{burst.count} {_foil_name(burst.colour, shelf)}" for burst in spec.starbursts]
    yield Measure("Starbursts", said(bursts).capitalize() if bursts else NONE)


def _singles(singles: Singles | None, shelf: Shelf, units: str) -> str:
    if singles is None or not singles.per_m:
        return NONE
    return f"{_names(singles.colours, shelf)}, one every {length_text(1 / singles.per_m, units)}"


def _foil_name(key: str, shelf: Shelf) -> str:
    colour = shelf.foil_colour(key)
    return (colour.name if colour else key).lower()


def _names(keys: Sequence[str], shelf: Shelf) -> str:
    return said([shelf.name_of(key).lower() for key in keys]).capitalize() if keys else NONE
