"""One row of a delivery, as typed or from a file, to the bags that it says came."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from inventory.deliveries.items import ItemsByName, ItemUnclear, UsualBag
from inventory.models import Item

COLUMNS = ("item", "lot", "count", "bags", "cost", "place", "note")
BAGS_MOST = 200
COUNT_MOST = 100_000
CENTS_MOST = 100_000_00
LONGEST = {"lot": 40, "place": 60, "note": 300}
NO_PLACE = "none"

ITEM_MISSING = "Which item is it?"
WHOLE_NUMBER = "A whole number from 1 to {most:,}."
MONEY = "An amount such as 16.50."
MONEY_UNCLEAR = "It could be read in two ways: write it as 1234.50."
MONEY_MOST = "No bag costs that much: an amount up to 100000.00."
TOO_LONG = "At most {longest} letters."

_WHOLE = re.compile(r"\d{1,7}")
_MONEY = re.compile(r"(\d{1,9})(?:[.,](\d{1,2}))?")
_THOUSANDS = re.compile(r"\d{1,3}([.,]\d{3})+([.,]\d{1,2})?")


@dataclass(frozen=True)
class DeliveryRow:
    """`bags` equal bags; `printed_count` and `cost_cents` are of one of them."""

    item: Item
    printed_count: int
    cost_cents: int
    bags: int = 1
    lot: str = ""
    place: str = ""
    note: str = ""


@dataclass(frozen=True)
class ReadRow:
    """What a row says, or by column what is wrong with it."""

    number: int
    typed: Mapping[str, str]
    row: DeliveryRow | None = None
    problems: Mapping[str, str] = field(default_factory=dict)

    @property
    def told(self) -> list[tuple[str, str, str]]:
        """Column, what stands there, what is wrong with it."""
        return [(name, self.typed[name], told) for name, told in self.problems.items()]


class RowReader:
    """Reads rows in order, as an empty place is the place of the row above."""

    def __init__(self, items: ItemsByName, usual: Mapping[int, UsualBag]) -> None:
        self.items, self.usual, self.place = items, usual, ""

    def read(self, number: int, typed: Mapping[str, str]) -> ReadRow:
        self.problems: dict[str, str] = {}
        typed = {column: typed.get(column, "").strip() for column in COLUMNS}
        item = self._item(typed["item"])
        usual = self.usual[item.pk] if item else UsualBag(1, 0)
        said = {
            "printed_count": self._whole("count", typed, usual.count, COUNT_MOST),
            "bags": self._whole("bags", typed, 1, BAGS_MOST),
            "cost_cents": self._cents(typed["cost"], usual.cents),
            "lot": self._text("lot", typed),
            "place": self._place(typed),
            "note": self._text("note", typed),
        }
        if item is None or self.problems:
            return ReadRow(number, typed, problems=self.problems)
        return ReadRow(number, typed, DeliveryRow(item=item, **said))

    def _item(self, typed: str) -> Item | None:
        if not typed:
            self.problems["item"] = ITEM_MISSING
            return None
        try:
            return self.items.meant(typed)
        except ItemUnclear as unclear:
            self.problems["item"] = str(unclear)
            return None

    def _whole(self, column: str, typed: Mapping[str, str], usual: int, most: int) -> int:
        text = typed[column]
        if not text:
            return usual
        number = int(text) if _WHOLE.fullmatch(text) and text.isascii() else 0
        if not 1 <= number <= most:
            self.problems[column] = WHOLE_NUMBER.format(most=most)
        return number

    def _cents(self, typed: str, usual: int) -> int:
        text = typed.strip("$€£ \u00a0")
        if not text:
            return usual
        amount = _MONEY.fullmatch(text)
        if amount is None or not text.isascii():
            unclear = _THOUSANDS.fullmatch(text)
            self.problems["cost"] = MONEY_UNCLEAR if unclear else MONEY
            return 0
        cents = int(amount[1]) * 100 + int((amount[2] or "").ljust(2, "0"))
        if cents > CENTS_MOST:
            self.problems["cost"] = MONEY_MOST
        return cents

    def _text(self, column: str, typed: Mapping[str, str]) -> str:
        if len(typed[column]) > LONGEST[column]:
            self.problems[column] = TOO_LONG.format(longest=LONGEST[column])
        return typed[column]

    def _place(self, typed: Mapping[str, str]) -> str:
        said = self._text("place", typed)
        if said:
            self.place = "" if said.casefold() == NO_PLACE else said
        return self.place
