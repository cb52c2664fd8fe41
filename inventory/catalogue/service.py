"""What can be bought for a garland, and what an estimate sees of it."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from django.db import transaction
from django.db.models import Prefetch, Q, QuerySet
from django.utils.text import slugify

from inventory.losses.service import loss_rates
from inventory.models import Colour, Item
from inventory.models.item import Kind
from quoting.estimator import Catalogue, CatalogueItem, SundryItem, example_catalogue

SIZES_IN = (5, 11, 17, 24)
FOIL = None  # in place of a size: points of a foil starburst have none
KEY_LENGTH = 40
# Finer than any bag's price divides to: a ten-thousandth of a cent is a cent in ten thousand bands.
UNIT_CENTS_PLACES = 4

SUNDRY_PUT_AWAY = Q(kind=Kind.SUNDRY, archived_at__isnull=False)
ON_OFFER = Q(archived_at=None, colour__archived_at=None)


@dataclass(frozen=True, kw_only=True)
class BagPrice:
    count: int
    cents: int
    is_special_order: bool = False


Bags = Mapping[int | None, BagPrice]
"""By nominal size in inches, or FOIL. A size that is left out is not bought."""


@transaction.atomic
def colour_add(*, name: str, hex_value: str, finish: str, bags: Bags, now: datetime) -> Colour:
    colour = Colour(key=_key_from(name), name=name, hex=hex_value, finish=finish)
    colour.full_clean()
    colour.save()
    _bags_set(colour=colour, bags=bags, now=now)
    return colour


@transaction.atomic
def colour_change(
    *, colour: Colour, name: str, hex_value: str, finish: str, bags: Bags, now: datetime
) -> Colour:
    """Everything but the key, by which specs know it."""
    colour.name, colour.hex, colour.finish = name, hex_value, finish
    colour.full_clean()
    colour.save(update_fields=["name", "hex", "finish"])
    _bags_set(colour=colour, bags=bags, now=now)
    return colour


def colour_archive(*, colour: Colour, now: datetime) -> None:
    Colour.objects.filter(pk=colour.pk, archived_at=None).update(archived_at=now)


def colour_bring_back(*, colour: Colour) -> None:
    Colour.objects.filter(pk=colour.pk).update(archived_at=None)


@transaction.atomic
def sundry_add(*, name: str, unit: str, bag: BagPrice) -> Item:
    sundry = Item(kind=Kind.SUNDRY, name=name, unit=unit, bag_count=bag.count, bag_cents=bag.cents)
    sundry.full_clean()
    sundry.save()
    return sundry


@transaction.atomic
def sundry_change(*, sundry: Item, name: str, unit: str, bag: BagPrice) -> Item:
    sundry.name, sundry.unit = name, unit
    sundry.bag_count, sundry.bag_cents = bag.count, bag.cents
    sundry.full_clean()
    sundry.save()
    return sundry


def sundry_archive(*, sundry: Item, now: datetime) -> None:
    Item.objects.filter(pk=sundry.pk, archived_at=None).update(archived_at=now)


def sundry_bring_back(*, sundry: Item) -> None:
    Item.objects.filter(pk=sundry.pk).update(archived_at=None)


def colours_listed(*, is_archived: bool) -> QuerySet[Colour]:
    """By name, each with what is bought of it in `bought`: latex by size, then foil points."""
    bought = Item.objects.filter(archived_at=None).order_by("-kind", "nominal_in")
    return Colour.objects.filter(archived_at__isnull=not is_archived).prefetch_related(
        Prefetch("items", queryset=bought, to_attr="bought")
    )


def sundries_listed(*, is_archived: bool) -> QuerySet[Item]:
    return Item.objects.filter(kind=Kind.SUNDRY, archived_at__isnull=not is_archived)


def bags_of(colour: Colour) -> dict[int | None, BagPrice]:
    return {
        item.nominal_in: BagPrice(
            count=item.bag_count, cents=item.bag_cents, is_special_order=item.is_special_order
        )
        for item in colour.items.filter(archived_at=None)
    }


def units_of_estimated_sundries() -> dict[str, str]:
    """The sundries an estimate asks for by name, and the unit in which it counts them."""
    return {sundry.item: sundry.unit for sundry in example_catalogue().sundries}


def sundries_without_a_price() -> list[str]:
    """Estimates ask for these and count them as costing nothing until they are added."""
    priced = set(sundries_listed(is_archived=False).values_list("name", flat=True))
    return [name for name in units_of_estimated_sundries() if name not in priced]


def estimator_catalogue(*, with_archived: bool = True) -> Catalogue:
    """Three queries, whatever its size: one for the items, two for what was lost of them.

    Archived balloons are still priced, as quotes begun before may hold them; to offer colours for
    something new, ask for the catalogue without.
    """
    items = Item.objects.select_related("colour")
    listed = list(items.filter(ON_OFFER if not with_archived else ~SUNDRY_PUT_AWAY))
    balloons = [item for item in listed if item.kind != Kind.SUNDRY]
    losses = loss_rates(balloons)
    return Catalogue(
        items=tuple(_balloon(item, losses.get(item.pk)) for item in balloons),
        sundries=tuple(_sundry(item) for item in listed if item.kind == Kind.SUNDRY),
    )


def _balloon(item: Item, loss_rate: float | None) -> CatalogueItem:
    is_foil = item.kind == Kind.FOIL
    return CatalogueItem(
        colour=item.colour.key,
        name=f"{item.colour.name} starburst points" if is_foil else item.colour.name,
        kind="foil" if is_foil else "latex",
        nominal_in=None if is_foil else float(item.nominal_in),
        bag_count=item.bag_count,
        bag_cents=item.bag_cents,
        hex=item.colour.hex,
        special_order=item.is_special_order,
        loss_rate=loss_rate,
    )


def _sundry(item: Item) -> SundryItem:
    cents = f"{item.unit_cents:.{UNIT_CENTS_PLACES}f}".rstrip("0").rstrip(".")
    return SundryItem(item=item.name, unit=item.unit, unit_cents=Decimal(cents))


def _bags_set(*, colour: Colour, bags: Bags, now: datetime) -> None:
    """An item is never removed, as bags and quotes point to it: what is not bought is archived."""
    known = {item.nominal_in: item for item in colour.items.all()}
    for size, bag in bags.items():
        item = known.pop(size, None) or _item_new(colour, size)
        item.bag_count, item.bag_cents = bag.count, bag.cents
        item.is_special_order, item.archived_at = bag.is_special_order, None
        item.full_clean()
        item.save()
    left_out = [item.pk for item in known.values()]
    Item.objects.filter(pk__in=left_out, archived_at=None).update(archived_at=now)


def _item_new(colour: Colour, size: int | None) -> Item:
    kind = Kind.FOIL if size is FOIL else Kind.LATEX
    return Item(kind=kind, colour=colour, nominal_in=size)


def _key_from(name: str) -> str:
    taken = set(Colour.objects.values_list("key", flat=True))
    return next(key for key in _keys_for(name) if key not in taken)


def _keys_for(name: str) -> Iterator[str]:
    """`wet-slate`, then `wet-slate-2` and so on; a name without Latin letters is a `colour`."""
    stem = slugify(name)[:KEY_LENGTH].strip("-_") or "colour"
    yield stem
    number = 2
    while True:
        suffix = f"-{number}"
        yield stem[: KEY_LENGTH - len(suffix)] + suffix
        number += 1
