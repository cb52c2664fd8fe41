"""The colours a piece can be made in, gathered from the catalogue's items."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from quoting.estimator import Catalogue, CatalogueItem


@dataclass(frozen=True)
class ShelfColour:
    """`nominals` are the latex sizes it comes in, in inches; foil points have none."""

    key: str
    name: str
    hex: str
    nominals: tuple[float, ...] = ()


@dataclass(frozen=True)
class Shelf:
    latex: tuple[ShelfColour, ...]
    foil: tuple[ShelfColour, ...]

    @cached_property
    def _latex_by_key(self) -> dict[str, ShelfColour]:
        return {colour.key: colour for colour in self.latex}

    @cached_property
    def _foil_by_key(self) -> dict[str, ShelfColour]:
        return {colour.key: colour for colour in self.foil}

    def latex_colour(self, key: str) -> ShelfColour | None:
        return self._latex_by_key.get(key)

    def foil_colour(self, key: str) -> ShelfColour | None:
        return self._foil_by_key.get(key)

    def name_of(self, key: str) -> str:
        """Of a latex colour; one that nobody knows is called by its key."""
        colour = self.latex_colour(key)
        return colour.name if colour else key

    def latex_in(self, nominal_in: float) -> tuple[ShelfColour, ...]:
        return tuple(colour for colour in self.latex if nominal_in in colour.nominals)

    @cached_property
    def nominals(self) -> tuple[float, ...]:
        return tuple(sorted({nominal for colour in self.latex for nominal in colour.nominals}))

    def common_nominals(self, keys: Iterable[str]) -> set[float]:
        """Sizes that every one of these colours comes in."""
        known = [colour for key in keys if (colour := self.latex_colour(key))]
        return set.intersection(*(set(colour.nominals) for colour in known)) if known else set()

    def with_kept(self, keys: Iterable[str], whole: "Shelf") -> "Shelf":
        """Also the colours that a piece has from before they left the shelf."""
        kept = [whole.latex_colour(key) for key in keys if key not in self._latex_by_key]
        foil = [colour for colour in whole.foil if colour.key not in self._foil_by_key]
        return Shelf(
            latex=(*self.latex, *(colour for colour in kept if colour)),
            foil=(*self.foil, *(colour for colour in foil if colour.key in keys)),
        )


def shelf_of(catalogue: Catalogue) -> Shelf:
    return Shelf(latex=_colours(catalogue.items, "latex"), foil=_colours(catalogue.items, "foil"))


def _colours(items: Iterable[CatalogueItem], kind: str) -> tuple[ShelfColour, ...]:
    found: dict[str, list[CatalogueItem]] = {}
    for item in items:
        if item.kind == kind:
            found.setdefault(item.colour, []).append(item)
    return tuple(
        ShelfColour(key, _plain_name(group[0]), group[0].hex, _sizes(group))
        for key, group in found.items()
    )


def _plain_name(item: CatalogueItem) -> str:
    """The colour's own: foil points are called `Copper starburst points` in the catalogue."""
    return item.name.removesuffix(" starburst points")


def _sizes(items: Iterable[CatalogueItem]) -> tuple[float, ...]:
    return tuple(sorted(item.nominal_in for item in items if item.nominal_in is not None))
