"""The buy list: seen, printed, taken away as CSV, marked as ordered."""

from datetime import date, timedelta

from django.contrib import messages
from django.db.models import Q
from django.forms import BaseFormSet, formset_factory
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods

from inventory.buying.csv_out import buy_list_csv
from inventory.buying.forms import (
    PREFIX,
    ROWS_MORE,
    AheadForm,
    OrderForm,
    OrderLineForm,
    lines_initial,
    order_initial,
)
from inventory.buying.orders import OrderRefused, order_place
from inventory.buying.service import BuyList, buy_list
from inventory.catalogue.service import ON_OFFER
from inventory.models import Item, Order, Supplier
from inventory.models.order import OrderState

ORDERED = "Ordered from {supplier}. It counts as arriving on {day:%A} {day.day} {day:%B}."
LINES_MOST = 300


@require_GET
def buy_list_page(request: HttpRequest) -> HttpResponse:
    form = AheadForm({"days": AheadForm(request.GET).wanted()})
    days = form.wanted()
    context = {
        "form": form,
        "days": days,
        "list": _list(days, timezone.localdate()),
        "open_orders": Order.objects.filter(state=OrderState.ORDERED).count(),
        "today": timezone.localdate(),
    }
    return render(request, "inventory/buying/buy_list.html", context)


@require_GET
def buy_list_file(request: HttpRequest) -> HttpResponse:
    today = timezone.localdate()
    text = buy_list_csv(_list(AheadForm(request.GET).wanted(), today))
    name = f"buy-list-{today.isoformat()}.csv"
    return HttpResponse(
        text,
        content_type="text/csv; charset=utf-8",
        headers={"Content-Disposition": f'attachment; filename="{name}"'},
    )


@require_http_methods(["GET", "POST"])
def order_new(request: HttpRequest) -> HttpResponse:
    """What the buy list says for one supplier, to be changed into what was really ordered."""
    today = timezone.localdate()
    days = AheadForm(request.GET).wanted()
    supplier = _supplier(request)
    to_order = _list(days, today).of(supplier.pk if supplier else None)
    currency = request.business.currency
    form = OrderForm(
        request.POST or None, currency=currency, initial=order_initial(supplier, today=today)
    )
    lines = _line_forms(request, lines_initial(to_order))
    if request.method == "POST":
        order = _placed(request, form, lines)
        if order is not None:
            told = ORDERED.format(supplier=order.supplier, day=order.expected_on)
            kept = f"keep:order-new-{supplier.pk if supplier else 0}"
            messages.success(request, told, extra_tags=kept)
            return redirect("order_detail", pk=order.pk)
    context = {
        "form": form,
        "lines": lines,
        "to_order": to_order,
        "supplier": supplier,
        "days": days,
        "has_supplier": Supplier.objects.filter(archived_at=None).exists(),
    }
    status = 422 if form.is_bound else 200
    return render(request, "inventory/buying/order_new.html", context, status=status)


def _list(days: int, today: date) -> BuyList:
    return buy_list(until_on=today + timedelta(days=days), today=today)


def _supplier(request: HttpRequest) -> Supplier | None:
    """None where the items have no supplier yet."""
    number = request.GET.get("supplier", "")
    if not (number.isascii() and number.isdecimal() and len(number) < 10):
        return None
    return get_object_or_404(Supplier, pk=int(number))


def _line_forms(request: HttpRequest, initial: list[dict]) -> BaseFormSet:
    forms_of = formset_factory(OrderLineForm, extra=ROWS_MORE, max_num=LINES_MOST)
    short = [line["item"].pk for line in initial]
    items = list(Item.objects.filter(ON_OFFER | Q(pk__in=short)).select_related("colour"))
    return forms_of(
        request.POST or None,
        prefix=PREFIX,
        initial=initial,
        form_kwargs={"currency": request.business.currency, "items": items},
    )


def _placed(request: HttpRequest, form: OrderForm, lines: BaseFormSet) -> Order | None:
    if not (form.is_valid() & lines.is_valid()):
        return None
    said = form.cleaned_data
    try:
        order = order_place(
            supplier=said["supplier"],
            rows=[row for line in lines if (row := line.row())],
            ordered_on=said["ordered_on"],
            expected_on=said["expected_on"],
            delivery_cents=said["delivery"] or 0,
            note=said["note"],
            entry_key=said["entry_key"],
            by=request.user,
        )
    except OrderRefused as refused:
        form.add_error(None, str(refused))
        return None
    return order
