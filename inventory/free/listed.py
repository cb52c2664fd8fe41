"""What is free on a day, as a page shows it: colours with their sizes, foil, sundries."""

from dataclasses import dataclass
from datetime import date

from inventory.free.service import Free, free_on
from inventory.models import Item
from inventory.models.item import Kind


@dataclass(frozen=True, kw_only=True)
class ListedItem:
    item: Item
    free: Free

    @property
    def is_empty(self) -> bool:
        free = self.free
        return not (free.shelf or free.held or free.arriving)

    @property
    def short(self) -> int:
        """What is missing on that day or after it, for what is promised already."""
        return max(0, -self.free.promisable)


@dataclass(frozen=True, kw_only=True)
class ListedGroup:
    name: str
    items: tuple[ListedItem, ...]


def free_listed(*, on: date, today: date) -> list[ListedGroup]:
    """Four queries. Archived items only while there are any."""
    items = Item.objects.select_related("colour").order_by(*Item._meta.ordering)
    free = free_on(on=on, today=today)
    listed = [ListedItem(item=item, free=free[item.pk]) for item in items]
    shown = [one for one in listed if not (one.is_empty and _is_put_away(one.item))]
    words = ((Kind.LATEX, "Latex balloons"), (Kind.FOIL, "Foil starburst points"))
    groups = [
        ListedGroup(name=name, items=tuple(one for one in shown if one.item.kind == kind))
        for kind, name in (*words, (Kind.SUNDRY, "Sundries"))
    ]
    return [group for group in groups if group.items]


def _is_put_away(item: Item) -> bool:
    return item.is_archived or (item.colour is not None and item.colour.is_archived)
