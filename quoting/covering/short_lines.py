"""What is missing, as the page shows it: with the bags to buy and the colours to take instead."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from inventory.buying.service import BagsFrom, bags_to_buy
from inventory.buying.shortfalls import Dip, Shortfall
from quoting.covering.answer import Answer, CoverLine
from quoting.covering.substitutes import Substitute
from quoting.covering.swapping import can_swap


@dataclass(frozen=True, kw_only=True)
class ShownSubstitute:
    """`can_swap`: one press puts it in every piece that asks for what is missing."""

    found: Substitute
    can_swap: bool


@dataclass(frozen=True, kw_only=True)
class ShortLine:
    line: CoverLine
    bags: tuple[BagsFrom, ...]
    substitutes: tuple[ShownSubstitute, ...]


def short_lines(answer: Answer, *, today: date) -> list[ShortLine]:
    """The bags are those of the buy list, if nothing were short but what is short for this job."""
    short = [
        Shortfall(line.item, Dip(line.short, answer.needed_on, answer.needed_on), ())
        for line in answer.short
    ]
    bags = bags_to_buy(short, today=today) if short else {}
    return [
        ShortLine(line=line, bags=bags[line.item.pk], substitutes=tuple(_substitutes(line)))
        for line in answer.short
    ]


def _substitutes(line: CoverLine) -> Iterable[ShownSubstitute]:
    for found in line.substitutes:
        fits = all(can_swap(piece, old=line.item, new=found.item) for piece in line.pieces)
        yield ShownSubstitute(found=found, can_swap=fits and found.is_enough_for_all)
