"""What a job would need, put on the buy list before it is promised."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from django.contrib.auth.models import User
from django.db import transaction
from django.db.models import Exists, OuterRef, QuerySet

from decor.models import Job
from inventory.models import Hold, Need, Supplier, SupplierBag
from inventory.models.hold import OPEN_STATES


@dataclass(frozen=True, kw_only=True)
class Wanted:
    """`quantity` is all that the job takes of an item. Without a supplier the day is her own."""

    item: int
    quantity: int
    arrives_on: date
    supplier: Supplier | None = None


@transaction.atomic
def needs_acknowledge(
    *, job: Job, wanted: Iterable[Wanted], needed_on: date, by: User | None, now: datetime
) -> list[Need]:
    """The owner has seen what is missing, and means to buy it in time."""
    return [
        Need.objects.update_or_create(
            job=job,
            item_id=want.item,
            defaults={
                "quantity": want.quantity,
                "needed_on": needed_on,
                "supplier": want.supplier,
                "arrives_on": want.arrives_on,
                "by": by,
                "at": now,
            },
        )[0]
        for want in wanted
    ]


def needs_drop(*, job: Job) -> None:
    Need.objects.filter(job=job).delete()


def needs_open() -> QuerySet[Need]:
    """Those that nothing is held for yet: a hold of the item stands in a need's place."""
    held = Hold.objects.filter(job=OuterRef("job"), item=OuterRef("item"), state__in=OPEN_STATES)
    return Need.objects.filter(~Exists(held))


def need_arrives_on(need: Need, *, today: date) -> date:
    """Nothing is on its way yet: with each day that passes a supplier's bags come a day later."""
    if need.supplier is None:
        return need.arrives_on
    return today + timedelta(days=need.supplier.lead_days)


def quickest_suppliers(items: Iterable[int]) -> dict[int, Supplier]:
    """By item, of those who sell it: the one whose bags are here first."""
    offers = SupplierBag.objects.filter(item__in=items, supplier__archived_at=None)
    ordered = offers.select_related("supplier").order_by("-supplier__lead_days", "-supplier")
    return {offer.item_id: offer.supplier for offer in ordered}
