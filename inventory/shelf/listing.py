"""What is on the shelf: by colour and size, and by place."""

from collections.abc import Iterable
from dataclasses import dataclass, field

from django.db.models import Count, F, Q, QuerySet, Sum

from inventory.bags.age import Age, BestBefore
from inventory.models import Bag, Colour, Item
from inventory.models.item import Kind


@dataclass
class ShelfItem:
    item: Item
    left: int = 0
    bags: int = 0
    open_bags: int = 0
    past_best: int = 0
    places: set[str] = field(default_factory=set)


@dataclass(frozen=True)
class ShelfColour:
    """One colour in all its sizes, or none for the sundries, each on its own."""

    colour: Colour | None
    items: tuple[ShelfItem, ...]

    @property
    def left(self) -> int:
        return sum(item.left for item in self.items)


@dataclass(frozen=True)
class Place:
    name: str
    bags: int


def shelf_items(*, search: str = "", best: BestBefore) -> list[ShelfItem]:
    """Everything on offer, and what is left of anything else. Two questions, however much."""
    here = {item.pk: ShelfItem(item) for item in _items()}
    for group in _groups():
        if group["item"] in here:
            _add(here[group["item"]], group, best)
    return [
        each
        for each in here.values()
        if (each.left or _is_on_offer(each.item)) and _matches(each, search)
    ]


def by_colour(items: Iterable[ShelfItem]) -> tuple[list[ShelfColour], list[ShelfItem]]:
    """Balloons by colour, and the sundries."""
    colours: dict[int, list[ShelfItem]] = {}
    sundries = []
    for each in items:
        if each.item.kind == Kind.SUNDRY:
            sundries.append(each)
        else:
            colours.setdefault(each.item.colour_id, []).append(each)
    grouped = [ShelfColour(group[0].item.colour, tuple(group)) for group in colours.values()]
    return grouped, sundries


def places_listed() -> list[Place]:
    """Where bags with anything in them are. Bags without a place come last."""
    places = Bag.objects.filter(left__gt=0).order_by().values("place").annotate(bags=Count("pk"))
    listed = [Place(each["place"], each["bags"]) for each in places]
    return sorted(listed, key=lambda place: (not place.name, place.name.casefold()))


def bags_at(place: str) -> QuerySet[Bag]:
    return bags_listed().filter(place=place, left__gt=0)


def bags_of(item: Item) -> QuerySet[Bag]:
    """Those with anything in them, in the order in which they are used."""
    return bags_listed().filter(item=item, left__gt=0).order_by("-is_open", "received_on", "pk")


def bags_listed() -> QuerySet[Bag]:
    """All that a row of a bag shows, in one question."""
    return Bag.objects.select_related("item__colour", "delivery__supplier").order_by(
        "item__kind", "item__colour__name", "item__nominal_in", "item__name",
        "-is_open", "received_on", "pk",
    )  # fmt: skip


def _items() -> QuerySet[Item]:
    return Item.objects.select_related("colour").order_by(
        F("colour__name").asc(nulls_last=True), "-kind", "nominal_in", "name"
    )


def _groups() -> QuerySet[Bag, dict]:
    return (
        Bag.objects.filter(left__gt=0)
        .order_by()
        .values("item", "place", "received_on")
        .annotate(
            sum_left=Sum("left"),
            bags=Count("pk"),
            open_bags=Count("pk", filter=Q(is_open=True)),
        )
    )


def _add(each: ShelfItem, group: dict, best: BestBefore) -> None:
    each.left += group["sum_left"]
    each.bags += group["bags"]
    each.open_bags += group["open_bags"]
    each.places.add(group["place"])
    if best.age_of(each.item, group["received_on"]) == Age.PAST_BEST:
        each.past_best += group["sum_left"]


def _is_on_offer(item: Item) -> bool:
    return not item.is_archived and not (item.colour and item.colour.is_archived)


def _matches(each: ShelfItem, search: str) -> bool:
    """Each word in its name or in one of its places."""
    text = " ".join([str(each.item), *each.places]).casefold()
    return all(word in text for word in search.casefold().split())


def with_age(bags: Iterable[Bag], best: BestBefore) -> list[Bag]:
    """The same bags, each with its `age` and the day until which it is best."""
    aged = list(bags)
    for bag in aged:
        bag.age = best.age_of(bag.item, bag.received_on)
        bag.best_until = best.day_of(bag.received_on)
    return aged
