"""Which item is meant by part of its name."""

import re
import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from inventory.catalogue.service import ON_OFFER
from inventory.models import Item, SupplierBag

UNKNOWN = "No item of the catalogue is called that."
SEVERAL = "It could be {names}."
NAMES_SHOWN = 4


class ItemUnclear(Exception):
    """No item, or more than one, is called that."""


@dataclass(frozen=True)
class UsualBag:
    count: int
    cents: int


class ItemsByName:
    """The catalogue as it is typed: whole names, or the beginnings of enough of their words."""

    def __init__(self, items: Iterable[Item]) -> None:
        self.items = list(items)
        self._whole = {_words(str(item)): item for item in self.items}

    def meant(self, typed: str) -> Item:
        wanted = _words(typed)
        if wanted in self._whole:
            return self._whole[wanted]
        found = [item for words, item in self._whole.items() if _begin(wanted, words)]
        if len(found) == 1 and wanted:
            return found[0]
        raise ItemUnclear(SEVERAL.format(names=_or(found)) if found and wanted else UNKNOWN)


def items_by_name() -> ItemsByName:
    return ItemsByName(Item.objects.filter(ON_OFFER).select_related("colour"))


def usual_bags(items: Iterable[Item], supplier_id: int | None) -> Mapping[int, UsualBag]:
    """By item: the supplier's own bag where it is known to offer just one, else the catalogue's."""
    usual = {item.pk: UsualBag(item.bag_count, item.bag_cents) for item in items}
    offered: dict[int, list[UsualBag]] = {}
    for bag in SupplierBag.objects.filter(supplier_id=supplier_id):
        offered.setdefault(bag.item_id, []).append(UsualBag(bag.bag_count, bag.bag_cents))
    return usual | {pk: bags[0] for pk, bags in offered.items() if len(bags) == 1}


def _words(text: str) -> tuple[str, ...]:
    return tuple(re.findall(r"\w+", unicodedata.normalize("NFKC", text).casefold()))


def _begin(wanted: tuple[str, ...], words: tuple[str, ...]) -> bool:
    return all(any(word.startswith(part) for word in words) for part in wanted)


def _or(items: list[Item]) -> str:
    names = [str(item) for item in items[:NAMES_SHOWN]]
    more = len(items) - len(names)
    if more:
        return f"{', '.join(names)} or {more} more"
    return f"{', '.join(names[:-1])} or {names[-1]}"
