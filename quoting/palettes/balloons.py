"""The balloons a palette can be made of: the latex colours offered, with sizes and finish."""

from collections.abc import Iterable
from dataclasses import dataclass

from inventory.models import Colour
from inventory.models.item import Finish
from quoting.estimator.palette import ShelfColour
from quoting.pieces.shelf import Shelf


@dataclass(frozen=True, kw_only=True)
class Balloon:
    key: str
    name: str
    hex: str
    finish: str
    sizes: str

    @property
    def finish_word(self) -> str:
        """Nothing for a plain one, which goes without saying."""
        return "" if self.finish == Finish.PLAIN else str(Finish(self.finish).label).lower()

    def as_shelf_colour(self) -> ShelfColour:
        return ShelfColour(key=self.key, name=self.name, hex=self.hex, finish=self.finish_word)


def balloons_of(shelf: Shelf) -> tuple[Balloon, ...]:
    finishes = dict(Colour.objects.values_list("key", "finish"))
    return tuple(
        Balloon(
            key=colour.key,
            name=colour.name,
            hex=colour.hex,
            finish=finishes.get(colour.key, Finish.PLAIN),
            sizes=sizes_in_words(colour.nominals),
        )
        for colour in shelf.latex
    )


def sizes_in_words(nominals: Iterable[float]) -> str:
    """`5, 11 and 17-inch`"""
    numbers = [f"{nominal:g}" for nominal in nominals]
    listed = " and ".join([", ".join(numbers[:-1]), numbers[-1]] if len(numbers) > 1 else numbers)
    return f"{listed}-inch"
