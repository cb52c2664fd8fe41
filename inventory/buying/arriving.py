"""A delivery of what was ordered, entered as a delivery: the order expects so many fewer."""

import uuid
from collections import Counter
from collections.abc import Iterable, Sequence
from datetime import date, datetime

from django.db import transaction
from django.db.models import F, Prefetch, QuerySet

from inventory.buying.orders import OrderRefused, order_locked_open, order_settle
from inventory.deliveries.rows import DeliveryRow
from inventory.deliveries.service import delivery_receive
from inventory.holds.service import items_lock
from inventory.ledger.service import By
from inventory.models import Delivery, Order, OrderLine, Supplier
from inventory.models.order import OrderState

NOT_OF_THIS_ORDER = (
    "None of these rows is still expected of this order. Choose another, or say it was not ordered."
)


def orders_to_come() -> QuerySet[Order]:
    """Open orders with the lines of which bags are still to come, in `to_come`."""
    lines = OrderLine.objects.filter(received_bags__lt=F("bags")).select_related("item__colour")
    return (
        Order.objects.filter(state=OrderState.ORDERED)
        .select_related("supplier")
        .prefetch_related(
            Prefetch("lines", lines.annotate(left=F("bags") - F("received_bags")), "to_come")
        )
    )


def could_be_of(order: Order, *, supplier: Supplier, rows: Iterable[DeliveryRow]) -> bool:
    """The order is of this supplier, and expects something of what came."""
    items = {line.item_id for line in order.to_come}
    return order.supplier_id == supplier.pk and any(row.item.pk in items for row in rows)


@transaction.atomic
def order_came_as(
    *,
    order: Order,
    rows: Sequence[DeliveryRow],
    note_number: str,
    received_on: date,
    by: By,
    now: datetime,
    entry_key: uuid.UUID | None = None,
) -> Delivery:
    """All of it is put on the shelf, and what of it was ordered is no longer expected.

    Raises OrderRefused, or DeliveryRefused where this delivery was entered before.
    """
    current = order_locked_open(order)
    items_lock({row.item.pk for row in rows})
    came = bags_come(current.lines.order_by("pk"), rows)
    if not came:
        raise OrderRefused(NOT_OF_THIS_ORDER)
    delivery = delivery_receive(
        supplier=current.supplier,
        note_number=note_number,
        received_on=received_on,
        rows=rows,
        by=by,
        now=now,
        order=current,
        entry_key=entry_key,
    )
    order_settle(current, came)
    return delivery


def bags_come(lines: Iterable[OrderLine], rows: Iterable[DeliveryRow]) -> Counter[int]:
    """By line, how many of its bags these rows are.

    Bags of the size that was ordered first. Of other sizes as many pieces as make up what is left
    to come, and a part of a bag counts as one: rather too little is expected than too much.
    """
    lines = list(lines)
    left = {line.pk: line.bags - line.received_bags for line in lines}
    came: Counter[int] = Counter()
    pieces: Counter[int] = Counter()
    sizes = Counter[tuple[int, int]]()
    for row in rows:
        sizes[row.item.pk, row.printed_count] += row.bags
    for (item, count), bags in sizes.items():
        line = next((x for x in lines if (x.item_id, x.bag_count) == (item, count)), None)
        same = min(bags, left[line.pk]) if line else 0
        if line and same:
            came[line.pk] += same
            left[line.pk] -= same
        pieces[item] += (bags - same) * count
    for line in lines:
        some = min(left[line.pk], -(-pieces[line.item_id] // line.bag_count))
        if some:
            came[line.pk] += some
            pieces[line.item_id] = max(0, pieces[line.item_id] - some * line.bag_count)
    return came
