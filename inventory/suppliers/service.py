"""Suppliers and the bags they offer."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from django.db.models import Count, QuerySet
from django.db.models.functions import Lower

from inventory.models import Item, Supplier, SupplierBag


@dataclass(frozen=True)
class Offer:
    item: Item
    bag_count: int
    bag_cents: int


def offers_remember(*, supplier: Supplier, offers: Iterable[Offer]) -> None:
    """The price last paid is the one to expect. A bag that came for nothing says nothing."""
    newest = {(offer.item.pk, offer.bag_count): offer.bag_cents for offer in offers}
    SupplierBag.objects.bulk_create(
        [
            SupplierBag(supplier=supplier, item_id=item, bag_count=count, bag_cents=cents)
            for (item, count), cents in newest.items()
            if cents
        ],
        update_conflicts=True,
        unique_fields=["supplier", "item", "bag_count"],
        update_fields=["bag_cents"],
    )


def suppliers_listed(*, is_archived: bool) -> QuerySet[Supplier]:
    listed = Supplier.objects.filter(archived_at__isnull=not is_archived)
    return listed.annotate(offered=Count("bags_offered")).order_by(Lower("name"))


def supplier_archive(*, supplier: Supplier, now: datetime) -> None:
    Supplier.objects.filter(pk=supplier.pk, archived_at=None).update(archived_at=now)


def supplier_bring_back(*, supplier: Supplier) -> None:
    Supplier.objects.filter(pk=supplier.pk).update(archived_at=None)


def offer_add(*, supplier: Supplier, item: Item, bag_count: int, bag_cents: int) -> SupplierBag:
    offer = SupplierBag(supplier=supplier, item=item, bag_count=bag_count, bag_cents=bag_cents)
    offer.full_clean()
    offer.save()
    return offer
