"""Bags that came together, put on the shelf all at once or not at all."""

import uuid
from collections.abc import Iterable, Sequence
from datetime import date, datetime

from django.db import IntegrityError, transaction
from django.db.models import Count, Q, QuerySet, Sum

from inventory.deliveries.rows import DeliveryRow
from inventory.ledger.service import By, bags_receive
from inventory.models import Bag, Delivery, Order, Supplier
from inventory.suppliers.service import Offer, offers_remember

BAGS_MOST = 2000
TOO_MANY_BAGS = "That is {bags:,} bags. A delivery has at most 2,000: split it."


class DeliveryRefused(Exception):
    """The delivery cannot be entered; the message says why."""


class EnteredBefore(DeliveryRefused):
    """The same note of the same supplier, or the same form sent twice."""

    def __init__(self, delivery: Delivery) -> None:
        self.delivery = delivery
        day = f"{delivery.received_on:%d %B %Y}".lstrip("0")
        super().__init__(f"This delivery was entered before, as received on {day}.")


def delivery_receive(
    *,
    supplier: Supplier,
    note_number: str,
    received_on: date,
    rows: Sequence[DeliveryRow],
    by: By,
    now: datetime,
    order: Order | None = None,
    entry_key: uuid.UUID | None = None,
) -> Delivery:
    bags = sum(row.bags for row in rows)
    if bags > BAGS_MOST:
        raise DeliveryRefused(TOO_MANY_BAGS.format(bags=bags))
    delivery = Delivery(
        supplier=supplier,
        note_number=note_number.strip(),
        received_on=received_on,
        order=order,
        entry_key=entry_key or uuid.uuid4(),
        by=by,
    )
    try:
        with transaction.atomic():
            _enter(delivery, rows, by=by, now=now)
    except IntegrityError:  # someone else entered it between our look and our writing
        before = _same_as(delivery)
        if before:
            raise EnteredBefore(before) from None
        raise
    return delivery


def deliveries_listed() -> QuerySet[Delivery]:
    """Newest first."""
    counted = Delivery.objects.select_related("supplier").annotate(
        bag_total=Count("bags"), cents_total=Sum("bags__cost_cents")
    )
    return counted.order_by("-received_on", "-pk")


def _enter(delivery: Delivery, rows: Iterable[DeliveryRow], *, by: By, now: datetime) -> None:
    before = _same_as(delivery)
    if before:
        raise EnteredBefore(before)
    delivery.save()
    bags = [bag for row in rows for bag in _bags_of(row, delivery)]
    bags_receive(bags=bags, by=by, now=now)
    offers_remember(
        supplier=delivery.supplier,
        offers=[Offer(row.item, row.printed_count, row.cost_cents) for row in rows],
    )


def _same_as(delivery: Delivery) -> Delivery | None:
    same = Q(entry_key=delivery.entry_key)
    if delivery.note_number:
        same |= Q(supplier=delivery.supplier, note_number__iexact=delivery.note_number)
    return Delivery.objects.filter(same).first()


def _bags_of(row: DeliveryRow, delivery: Delivery) -> list[Bag]:
    return [
        Bag(
            item=row.item,
            delivery=delivery,
            lot=row.lot,
            received_on=delivery.received_on,
            cost_cents=row.cost_cents,
            printed_count=row.printed_count,
            place=row.place,
            note=row.note,
        )
        for _ in range(row.bags)
    ]
