"""Orders: what is on its way, and what became of the rest."""

from datetime import date

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from inventory.bags.service import places_known
from inventory.buying.forms import ExpectForm, ReceiveForm
from inventory.buying.orders import (
    OrderRefused,
    order_receive,
    orders_listed,
    orders_with_lines,
)
from inventory.buying.orders import order_call_off as call_off
from inventory.buying.orders import order_expect as expect
from inventory.buying.shortfalls import shortfalls
from inventory.deliveries.service import DeliveryRefused
from inventory.models import Delivery, Order
from inventory.models.order import OrderState

ORDERS_A_PAGE = 30
RECEIVED = "{bags} on the shelf. {rest}"
ALL_CAME = "Everything of this order has come."
REST_TO_COME = "The rest is still expected."
EXPECTED = "Now expected on {day:%A} {day.day} {day:%B}."
CALLED_OFF = "Called off. Nothing more is expected of it."


@require_GET
def order_list(request: HttpRequest) -> HttpResponse:
    page = Paginator(orders_listed(is_open=False), ORDERS_A_PAGE).get_page(request.GET.get("page"))
    context = {
        "expected": orders_listed(is_open=True),
        "page": page,
        "today": timezone.localdate(),
    }
    return render(request, "inventory/buying/order_list.html", context)


@require_GET
def order_detail(request: HttpRequest, pk: int) -> HttpResponse:
    return _page(request, _order(pk))


@require_http_methods(["GET", "POST"])
def order_receive_page(request: HttpRequest, pk: int) -> HttpResponse:
    order = _order(pk)
    if order.state != OrderState.ORDERED:
        return redirect("order_detail", pk=pk)
    form = ReceiveForm(request.POST or None, order=order, today=timezone.localdate())
    if form.is_valid():
        delivery = _received(request, order, form)
        if delivery is not None:
            return redirect("order_detail", pk=pk)
    context = {"order": order, "form": form, "places": places_known()}
    status = 422 if form.is_bound else 200
    return render(request, "inventory/buying/order_receive.html", context, status=status)


@require_POST
def order_expect(request: HttpRequest, pk: int) -> HttpResponse:
    order = _order(pk)
    form = ExpectForm(request.POST)
    if not form.is_valid():
        return _page(request, order, expect_form=form)
    try:
        expect(order=order, expected_on=form.cleaned_data["expected_on"])
    except OrderRefused as refused:
        form.add_error("expected_on", str(refused))
        return _page(request, order, expect_form=form)
    messages.success(request, EXPECTED.format(day=order.expected_on))
    return redirect("order_detail", pk=pk)


@require_http_methods(["GET", "POST"])
def order_call_off(request: HttpRequest, pk: int) -> HttpResponse:
    """Asks first, and says who would then go short."""
    order = _order(pk)
    if request.method == "POST":
        try:
            call_off(order=order)
        except OrderRefused as refused:
            messages.warning(request, str(refused))
        else:
            messages.success(request, CALLED_OFF)
        return redirect("order_detail", pk=pk)
    if order.state != OrderState.ORDERED:
        return redirect("order_detail", pk=pk)
    today = timezone.localdate()
    items = {line.item_id for line in order.lines.all() if line.to_come}
    short = shortfalls(until_on=date.max, today=today, but_for=order)
    context = {"order": order, "short": [each for each in short if each.item.pk in items]}
    return render(request, "inventory/buying/order_call_off.html", context)


def _order(pk: int) -> Order:
    return get_object_or_404(orders_with_lines(), pk=pk)


def _page(
    request: HttpRequest, order: Order, *, expect_form: ExpectForm | None = None
) -> HttpResponse:
    lines = order.lines.all()
    context = {
        "order": order,
        "bags_cents": sum(line.cents for line in lines),
        "cents": sum(line.cents for line in lines) + order.delivery_cents,
        "to_come": sum(line.to_come for line in lines),
        "came": sum(line.received_bags for line in lines),
        "is_open": order.state == OrderState.ORDERED,
        "is_late": order.state == OrderState.ORDERED and order.expected_on < timezone.localdate(),
        "expect_form": expect_form or ExpectForm(initial={"expected_on": order.expected_on}),
    }
    status = 422 if expect_form is not None else 200
    return render(request, "inventory/buying/order_detail.html", context, status=status)


def _received(request: HttpRequest, order: Order, form: ReceiveForm) -> Delivery | None:
    said = form.cleaned_data
    try:
        delivery = order_receive(
            order=order,
            came=form.came(),
            note_number=said["note_number"],
            received_on=said["received_on"],
            entry_key=said["entry_key"],
            by=request.user,
            now=timezone.now(),
        )
    except DeliveryRefused as refused:
        form.add_error("note_number", str(refused))
        return None
    except OrderRefused as refused:
        form.add_error(None, str(refused))
        return None
    bags = delivery.bags.count()
    told = RECEIVED.format(
        bags="1 bag is" if bags == 1 else f"{bags} bags are",
        rest=ALL_CAME if order.state == OrderState.RECEIVED else REST_TO_COME,
    )
    messages.success(request, told, extra_tags=f"keep:order-receive-{order.pk}")
    return delivery
