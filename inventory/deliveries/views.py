from collections.abc import Sequence

from django.contrib import messages
from django.core.paginator import Paginator
from django.db.models import Count, F, Sum
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods

from inventory.bags.service import places_known
from inventory.buying.arriving import order_came_as
from inventory.buying.orders import OrderRefused
from inventory.deliveries.csv_file import FileRefused, csv_read, example_csv, text_of
from inventory.deliveries.forms import (
    ROWS_MISSING,
    CsvForm,
    DeliveryForm,
    row_reader,
    rows_shown,
    rows_typed,
)
from inventory.deliveries.items import items_by_name
from inventory.deliveries.rows import DeliveryRow, ReadRow
from inventory.deliveries.service import (
    DeliveryRefused,
    EnteredBefore,
    deliveries_listed,
    delivery_receive,
)
from inventory.models import Delivery, OrderLine, Supplier
from inventory.shelf.listing import bags_listed

DELIVERIES_A_PAGE = 30
ENTERED = "{bags} on the shelf."
ALL_CAME = "Everything of the order has come."
STILL_TO_COME = "{bags} still expected of the order."


@require_GET
def delivery_list(request: HttpRequest) -> HttpResponse:
    page = Paginator(deliveries_listed(), DELIVERIES_A_PAGE).get_page(request.GET.get("page"))
    context = {"page": page, "has_supplier": Supplier.objects.exists()}
    return render(request, "inventory/deliveries/delivery_list.html", context)


@require_GET
def delivery_detail(request: HttpRequest, pk: int) -> HttpResponse:
    delivery = get_object_or_404(Delivery.objects.select_related("supplier", "by", "order"), pk=pk)
    bags = bags_listed().filter(delivery=delivery)
    context = {
        "delivery": delivery,
        "bags": bags,
        "total": bags.aggregate(bags=Count("pk"), cents=Sum("cost_cents")),
    }
    return render(request, "inventory/deliveries/delivery_detail.html", context)


@require_http_methods(["GET", "POST"])
def delivery_new(request: HttpRequest) -> HttpResponse:
    """One page for a delivery: its head once, then a row for each kind of bag."""
    given = {"supplier": request.GET.get("supplier"), "order": request.GET.get("order")}
    form = DeliveryForm(request.POST or None, today=timezone.localdate(), initial=given)
    rows: list[ReadRow] = []
    if request.method == "POST":
        rows = rows_typed(request.POST, row_reader(_supplier_id(request)))
        is_sound = form.is_valid()
        if not rows:
            form.add_error(None, ROWS_MISSING)
        elif is_sound and not _wrong(rows):
            delivery = _entered(request, form, rows)
            if delivery:
                return redirect("delivery_detail", pk=delivery.pk)
    context = {
        "form": form,
        "rows": rows_shown(rows, first_item=request.GET.get("item", "")),
        "wrong": _wrong(rows),
        "items": items_by_name().items,
        "places": places_known(),
        "has_supplier": Supplier.objects.filter(archived_at=None).exists(),
    }
    status = 422 if form.is_bound else 200
    return render(request, "inventory/deliveries/delivery_new.html", context, status=status)


@require_http_methods(["GET", "POST"])
def delivery_csv(request: HttpRequest) -> HttpResponse:
    """Shows what a file says, row by row; writes it only when asked again and all is well."""
    form = CsvForm(request.POST or None, request.FILES or None, today=timezone.localdate())
    rows: list[ReadRow] = []
    if request.method == "POST" and form.is_valid():
        rows = _file_rows(request, form)
        if rows and not _wrong(rows) and "enter" in request.POST:
            delivery = _entered(request, form, rows)
            if delivery:
                return redirect("delivery_detail", pk=delivery.pk)
    context = {
        "form": form,
        "rows": rows,
        "wrong": _wrong(rows),
        "bags": sum(row.row.bags for row in rows if row.row),
        "example": example_csv(),
        "has_supplier": Supplier.objects.filter(archived_at=None).exists(),
    }
    status = 422 if form.errors or _wrong(rows) else 200
    return render(request, "inventory/deliveries/delivery_csv.html", context, status=status)


def _supplier_id(request: HttpRequest) -> int | None:
    typed = request.POST.get("supplier", "")
    return int(typed) if typed.isascii() and typed.isdecimal() and len(typed) < 10 else None


def _wrong(rows: Sequence[ReadRow]) -> list[ReadRow]:
    return [row for row in rows if row.problems]


def _file_rows(request: HttpRequest, form: CsvForm) -> list[ReadRow]:
    """What is chosen counts before what is pasted, and is then shown where it can be mended."""
    upload = form.cleaned_data["file"]
    try:
        text = text_of(upload.read()) if upload else form.cleaned_data["text"]
        form.data = form.data.copy()
        form.data["text"] = text
        return csv_read(text, row_reader(form.cleaned_data["supplier"].pk))
    except FileRefused as refused:
        form.add_error("file" if upload else "text", str(refused))
        return []


def _entered(request: HttpRequest, form: DeliveryForm, rows: Sequence[ReadRow]) -> Delivery | None:
    came = [row.row for row in rows]
    if not form.is_order_said(came):
        return None
    try:
        delivery = _put_away(request, form, came)
    except EnteredBefore as before:
        form.entered_before = before.delivery
        form.add_error("note_number", str(before))
        return None
    except OrderRefused as refused:
        form.add_error("order", str(refused))
        return None
    except DeliveryRefused as refused:
        form.add_error(None, str(refused))
        return None
    said = ENTERED.format(bags=_bags_are(sum(row.bags for row in came)))
    if delivery.order_id:
        said = f"{said} {_of_the_order(delivery.order_id)}"
    messages.success(request, said, extra_tags="keep:delivery-new")
    return delivery


def _put_away(request: HttpRequest, form: DeliveryForm, came: Sequence[DeliveryRow]) -> Delivery:
    said = {**form.head(), "rows": came, "by": request.user, "now": timezone.now()}
    if form.meant:
        return order_came_as(order=form.meant, **said)
    return delivery_receive(supplier=form.cleaned_data["supplier"], **said)


def _of_the_order(pk: int) -> str:
    lines = OrderLine.objects.filter(order=pk)
    left = lines.aggregate(left=Sum(F("bags") - F("received_bags")))["left"]
    return STILL_TO_COME.format(bags=_bags_are(left)) if left else ALL_CAME


def _bags_are(bags: int) -> str:
    return "1 bag is" if bags == 1 else f"{bags} bags are"
