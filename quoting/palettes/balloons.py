"""The balloons a palette can be made of: the latex colours offered, with sizes and finish."""

from collections.abc import Mapping
from dataclasses import dataclass

from inventory.models import Colour
from inventory.models.item import Finish
from quoting.estimator.palette import ShelfColour as MatchedColour
from quoting.pieces.shelf import Shelf, ShelfColour
from quoting.pieces.words import said


@dataclass(frozen=True, kw_only=True)
class Balloon:
    key: str
    name: str
    hex: str
    finish: str
    only_sizes: str
    free: int | None = None

    @property
    def finish_word(self) -> str:
        """Nothing for a plain one, which goes without saying."""
        return "" if self.finish == Finish.PLAIN else str(Finish(self.finish).label).lower()

    def to_match(self) -> MatchedColour:
        return MatchedColour(
            key=self.key,
            name=self.name,
            hex=self.hex,
            finish=self.finish_word,
            free=self.free,
        )


def balloons_of(shelf: Shelf, free: Mapping[str, int]) -> tuple[Balloon, ...]:
    """`free`: how many of the usual size, by colour."""
    finishes = dict(Colour.objects.values_list("key", "finish"))
    return tuple(
        Balloon(
            key=colour.key,
            name=colour.name,
            hex=colour.hex,
            finish=finishes.get(colour.key, Finish.PLAIN),
            only_sizes=_only_sizes(colour, shelf),
            free=free.get(colour.key),
        )
        for colour in shelf.latex
    )


def _only_sizes(colour: ShelfColour, shelf: Shelf) -> str:
    """`only 5 and 11-inch` where others come in more; nothing where it has every size."""
    if set(colour.nominals) == set(shelf.nominals):
        return ""
    return f"only {said([f'{nominal:g}' for nominal in colour.nominals])}-inch"
