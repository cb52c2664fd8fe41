"""A piece in words: for the client its shape, size, fullness and colours, never what it takes."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import singledispatch

from decor.display import length_text
from quoting.estimator import Catalogue, Spec
from quoting.estimator.paths import path_length
from quoting.estimator.spec import Arch, BaseColour, Drape, Line, Path, Posts, Ring, Swag
from quoting.pieces.shelf import Shelf, shelf_of


@dataclass(frozen=True)
class Swatch:
    name: str
    hex: str


def palette_of(spec: Spec, catalogue: Catalogue) -> tuple[Swatch, ...]:
    """Every colour once: the base first, by share, then accents, starbursts and the rest."""
    shelf = shelf_of(catalogue)
    return tuple(
        Swatch(colour.name, colour.hex)
        for key in colour_keys(spec)
        if (colour := shelf.latex_colour(key) or shelf.foil_colour(key))
    )


def colour_keys(spec: Spec) -> tuple[str, ...]:
    keys = [
        *(colour.colour for colour in sorted(spec.base, key=_by_share)),
        *(accent.colour for accent in spec.accents),
        *(starburst.colour for starburst in spec.starbursts),
        *(spec.singles.colours if spec.singles else ()),
        *(spec.fillers.colours if spec.fillers else ()),
    ]
    return tuple(dict.fromkeys(keys))


def piece_in_words(spec: Spec, *, units: str, catalogue: Catalogue) -> str:
    """Two or three sentences, for a client."""
    shelf = shelf_of(catalogue)
    colours = said([shelf.name_of(c.colour).lower() for c in sorted(spec.base, key=_by_share)])
    sentences = [
        f"{path_in_words(spec.path, units)}, in {colours}.",
        f"The garland is {_across(spec, units)} across.",
    ]
    if extras := list(_extras(spec, shelf)):
        sentences.append(f"With {said(extras)}.")
    return " ".join(sentences)


def _by_share(colour: BaseColour) -> float:
    return -colour.share


def _across(spec: Spec, units: str) -> str:
    widths = [station.width_m for station in spec.width]
    narrow, wide = length_text(min(widths), units), length_text(max(widths), units)
    return narrow if narrow == wide else f"{narrow} to {wide}"


def _extras(spec: Spec, shelf: Shelf) -> Iterable[str]:
    if spec.singles:
        yield "large single balloons"
    if spec.fillers:
        yield "clusters of small ones in between"
    if spec.accents:
        names = said([shelf.name_of(accent.colour).lower() for accent in spec.accents])
        yield f"accents in {names}"
    for starburst in spec.starbursts:
        colour = shelf.foil_colour(starburst.colour)
        name = (colour.name if colour else starburst.colour).lower()
        yield f"{starburst.count} {name} foil starburst{'' if starburst.count == 1 else 's'}"


@singledispatch
def path_in_words(path: Path, units: str) -> str:
    raise TypeError(f"not a path: {path!r}")


@path_in_words.register
def _(path: Line, units: str) -> str:
    return f"A straight garland, {length_text(path.length_m, units)} long"


@path_in_words.register
def _(path: Arch, units: str) -> str:
    width, height = (length_text(m, units) for m in (path.width_m, path.height_m))
    return f"An arch, {width} wide and {height} high"


@path_in_words.register
def _(path: Posts, units: str) -> str:
    width, height = (length_text(m, units) for m in (path.width_m, path.height_m))
    return f"Two posts and a top, {width} wide and {height} high"


@path_in_words.register
def _(path: Swag, units: str) -> str:
    span, sag = (length_text(m, units) for m in (path.span_m, path.sag_m))
    return f"A swag over {span}, hanging down {sag}"


@path_in_words.register
def _(path: Ring, units: str) -> str:
    return f"A ring, {length_text(path.diameter_m, units)} across"


@path_in_words.register
def _(path: Drape, units: str) -> str:
    return f"A garland led from point to point, {length_text(path_length(path), units)} long"


def said(words: list[str]) -> str:
    """`oat, fern and plum`"""
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)
