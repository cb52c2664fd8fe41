"""What the shelf has to be done: buy, receive, and what can no longer be bought in time."""

from collections.abc import Iterable, Iterator
from datetime import date, timedelta

from django.urls import reverse

from decor.today.sources import Deed, TodayLine, register
from inventory.buying.service import BuyLine, ToOrder, buy_list
from inventory.buying.when import Urgency, day_words
from inventory.models import Order
from inventory.models.order import OrderState

# The longest that bags take to come must lie within, or they are told of too late.
LOOK_AHEAD = timedelta(days=90)
NAMED = 3
BUY = "{what}{supplier}"
BUY_FROM = " from {supplier}"
MORE = " and {count} more"
SHORT = "{count} {item} for {day}: ordered now they come too late"
COMES = "Bags from {supplier}"
SHOULD_HAVE_COME = "Bags from {supplier} should have come"


def buy_lines(first: date, last: date) -> Iterator[TodayLine]:
    """As the buy list says it, so that both name the same day."""
    listed = buy_list(until_on=first + LOOK_AHEAD, today=first)
    for order in listed.orders:
        in_time = [line for line in order.lines if line.when.urgency != Urgency.TOO_LATE]
        soon = [line for line in in_time if line.when.order_by <= last]
        if soon:
            yield _buy_line(order, soon, first)
        for line in order.lines:
            if line.when.urgency == Urgency.TOO_LATE and line.when.needed_on <= last:
                yield _short_line(line, first)


def _buy_line(order: ToOrder, lines: list[BuyLine], today: date) -> TodayLine:
    supplier = BUY_FROM.format(supplier=order.supplier) if order.supplier else ""
    return TodayLine(
        on=max(today, min(line.when.order_by for line in lines)),
        kind=Deed.BUY,
        text=BUY.format(what=_named(lines), supplier=supplier),
        url=reverse("buy_list"),
        action="Buy list",
    )


def _named(lines: Iterable[BuyLine]) -> str:
    names = [f"{line.shortfall.quantity} {line.shortfall.item}" for line in lines]
    more = MORE.format(count=len(names) - NAMED) if len(names) > NAMED else ""
    return ", ".join(names[:NAMED]) + more


def _short_line(line: BuyLine, today: date) -> TodayLine:
    short = line.shortfall
    asking = short.asking[0].job if short.asking else None
    return TodayLine(
        on=max(today, short.needed_on),
        kind=Deed.SHELF,
        text=SHORT.format(count=short.quantity, item=short.item, day=day_words(short.needed_on)),
        url=reverse("shelf_timeline", args=[short.item.pk]),
        action="Who takes it",
        is_late=True,
        job=asking,
    )


def order_lines(first: date, last: date) -> Iterator[TodayLine]:
    orders = Order.objects.filter(state=OrderState.ORDERED, expected_on__lte=last)
    for order in orders.select_related("supplier").order_by("expected_on", "pk"):
        is_late = order.expected_on < first
        said = SHOULD_HAVE_COME if is_late else COMES
        yield TodayLine(
            on=order.expected_on,
            kind=Deed.RECEIVE,
            text=said.format(supplier=order.supplier),
            url=reverse("order_detail", args=[order.pk]),
            action="Open the order",
            is_late=is_late,
        )


def register_shelf_lines() -> None:
    for source in (buy_lines, order_lines):
        register(source)
