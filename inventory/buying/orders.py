"""Bags that were ordered: marked so, received in part or whole, put off, called off."""

import uuid
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from django.db import IntegrityError, transaction
from django.db.models import Count, F, Prefetch, QuerySet, Sum

from inventory.deliveries.rows import DeliveryRow
from inventory.deliveries.service import delivery_receive
from inventory.holds.service import items_lock
from inventory.ledger.service import By
from inventory.models import Delivery, Item, Order, OrderLine, Supplier
from inventory.models.order import OrderState

NOTHING_ORDERED = "Nothing is ordered: give at least one line a number of bags."
NOTHING_CAME = "Nothing came: give at least one line a number of bags."
NOT_OPEN = "This order is {state} already."
MORE_THAN_ORDERED = (
    "{item}: only {left} of these bags were still to come. Enter more than that as a delivery of "
    "its own."
)
BEFORE_ORDERED = "An order cannot come before it is placed."
CENTS = F("lines__bags") * F("lines__bag_cents")


class OrderRefused(Exception):
    """What was asked of an order cannot be; the message says it to the owner."""


@dataclass(frozen=True)
class OrderRow:
    item: Item
    bag_count: int
    bags: int
    bag_cents: int


@dataclass(frozen=True)
class Came:
    """How many bags of one line came, and where they are put."""

    line: OrderLine
    bags: int
    lot: str = ""
    place: str = ""


def order_place(
    *,
    supplier: Supplier,
    rows: Sequence[OrderRow],
    ordered_on: date,
    expected_on: date,
    delivery_cents: int,
    by: By,
    note: str = "",
    entry_key: uuid.UUID | None = None,
) -> Order:
    """The same form sent twice is one order."""
    if not rows:
        raise OrderRefused(NOTHING_ORDERED)
    if expected_on < ordered_on:
        raise OrderRefused(BEFORE_ORDERED)
    order = Order(
        supplier=supplier,
        ordered_on=ordered_on,
        expected_on=expected_on,
        delivery_cents=delivery_cents,
        note=note,
        entry_key=entry_key or uuid.uuid4(),
        by=by,
    )
    try:
        with transaction.atomic():
            items_lock([row.item.pk for row in rows])
            order.save()
            OrderLine.objects.bulk_create(_lines(order, rows))
    except IntegrityError:
        before = Order.objects.filter(entry_key=order.entry_key).first()
        if before is None:
            raise
        return before
    return order


def order_receive(
    *,
    order: Order,
    came: Sequence[Came],
    note_number: str,
    received_on: date,
    by: By,
    now: datetime,
    entry_key: uuid.UUID | None = None,
) -> Delivery:
    """The bags appear on the shelf, and the order waits for what is still to come.

    Raises OrderRefused, or DeliveryRefused where this delivery was entered before.
    """
    came = [each for each in came if each.bags]
    if not came:
        raise OrderRefused(NOTHING_CAME)
    with transaction.atomic():
        current = order_locked_open(order)
        items_lock([each.line.item_id for each in came])
        lines = {line.pk: line for line in current.lines.select_related("item__colour")}
        delivery = delivery_receive(
            supplier=current.supplier,
            note_number=note_number,
            received_on=received_on,
            rows=[_row(lines[each.line.pk], each) for each in came],
            by=by,
            now=now,
            order=current,
            entry_key=entry_key,
        )
        order_settle(current, {each.line.pk: each.bags for each in came})
    order.refresh_from_db()
    return delivery


def order_locked_open(order: Order) -> Order:
    current = Order.objects.select_for_update(no_key=True).get(pk=order.pk)
    if current.state != OrderState.ORDERED:
        raise OrderRefused(NOT_OPEN.format(state=current.get_state_display().lower()))
    return current


def order_settle(order: Order, came: Mapping[int, int]) -> None:
    """So many bags of each line are no longer expected. The caller has locked the order."""
    for line, bags in came.items():
        order.lines.filter(pk=line).update(received_bags=F("received_bags") + bags)
    if not order.lines.filter(received_bags__lt=F("bags")).exists():
        _set_state(order, OrderState.RECEIVED)


@transaction.atomic
def order_expect(*, order: Order, expected_on: date) -> None:
    """The supplier says another day."""
    current = order_locked_open(order)
    if expected_on < current.ordered_on:
        raise OrderRefused(BEFORE_ORDERED)
    Order.objects.filter(pk=current.pk).update(expected_on=expected_on)
    order.refresh_from_db()


@transaction.atomic
def order_call_off(*, order: Order) -> None:
    """What came of it stays on the shelf; nothing more is expected."""
    current = order_locked_open(order)
    items_lock(list(current.lines.values_list("item", flat=True)))
    _set_state(current, OrderState.CALLED_OFF)
    order.refresh_from_db()


def orders_listed(*, is_open: bool) -> QuerySet[Order]:
    """Those that are expected first, first; of those that are over, the newest first."""
    listed = Order.objects.select_related("supplier").annotate(
        bags=Sum("lines__bags"),
        came=Sum("lines__received_bags"),
        cents=Sum(CENTS) + F("delivery_cents"),
        kinds=Count("lines"),
    )
    if is_open:
        return listed.filter(state=OrderState.ORDERED).order_by("expected_on", "pk")
    return listed.exclude(state=OrderState.ORDERED).order_by("-ordered_on", "-pk")


def orders_with_lines() -> QuerySet[Order]:
    """Each line with how many bags of it are still to come, in `to_come`."""
    lines = OrderLine.objects.select_related("item__colour").annotate(
        to_come=F("bags") - F("received_bags"), cents=F("bags") * F("bag_cents")
    )
    return Order.objects.select_related("supplier", "by").prefetch_related(
        Prefetch("lines", queryset=lines), "deliveries"
    )


def _lines(order: Order, rows: Sequence[OrderRow]) -> list[OrderLine]:
    """Two rows of equal bags are one line."""
    lines: dict[tuple[int, int], OrderLine] = {}
    for row in rows:
        line = lines.setdefault(
            (row.item.pk, row.bag_count),
            OrderLine(order=order, item=row.item, bag_count=row.bag_count, bags=0),
        )
        line.bags += row.bags
        line.bag_cents = row.bag_cents
    return list(lines.values())


def _row(line: OrderLine, came: Came) -> DeliveryRow:
    left = line.bags - line.received_bags
    if not 0 < came.bags <= left:
        raise OrderRefused(MORE_THAN_ORDERED.format(item=line.item, left=left))
    return DeliveryRow(
        item=line.item,
        printed_count=line.bag_count,
        cost_cents=line.bag_cents,
        bags=came.bags,
        lot=came.lot,
        place=came.place,
    )


def _set_state(order: Order, state: OrderState) -> None:
    Order.objects.filter(pk=order.pk).update(state=state)
