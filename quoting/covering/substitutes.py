"""Other colours that could be used for what is missing: same size, free, nearest by CIEDE2000."""

from collections.abc import Mapping
from dataclasses import dataclass

from inventory.free.balance import Free
from inventory.models import Item
from inventory.models.item import Finish, Kind
from quoting.estimator.palette import ShelfColour, match

MOST_SUBSTITUTES = 3


@dataclass(frozen=True, kw_only=True)
class Substitute:
    """`is_enough_for_all`: not only for what is missing."""

    item: Item
    free: int
    in_words: str
    delta_e: float
    is_enough_for_all: bool


def substitutes_for(
    item: Item,
    *,
    wanted: int,
    short: int,
    candidates: Mapping[int, Item],
    free: Mapping[int, Free],
    asked: Mapping[int, int],
) -> tuple[Substitute, ...]:
    """Nearest first. What the same quote asks of a colour itself (`asked`) is not free for this."""
    if item.kind == Kind.SUNDRY:
        return ()
    left = {pk: free[pk].promisable - asked.get(pk, 0) for pk in candidates if pk in free}
    shelf = [
        ShelfColour(
            key=str(pk),
            name=other.colour.name,
            hex=other.colour.hex,
            finish=_finish(other),
            free=left[pk],
        )
        for pk, other in candidates.items()
        if _stands_in(other, item) and left.get(pk, 0) >= short
    ]
    return tuple(
        Substitute(
            item=candidates[int(found.key)],
            free=left[int(found.key)],
            in_words=found.in_words,
            delta_e=found.delta_e,
            is_enough_for_all=left[int(found.key)] >= wanted,
        )
        for found in match(item.colour.hex, shelf, need=short, most=MOST_SUBSTITUTES)
    )


def _stands_in(other: Item, item: Item) -> bool:
    same = (other.kind, other.nominal_in) == (item.kind, item.nominal_in)
    on_offer = not other.is_archived and not other.colour.is_archived
    return same and on_offer and other.pk != item.pk


def _finish(item: Item) -> str:
    """Nothing for a plain one, which goes without saying."""
    plain = item.colour.finish == Finish.PLAIN
    return "" if plain else item.colour.get_finish_display().lower()
