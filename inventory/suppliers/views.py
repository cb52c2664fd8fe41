from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.text import capfirst
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from inventory.models import Supplier, SupplierBag
from inventory.suppliers.forms import OfferForm, OfferPriceForm, SupplierForm
from inventory.suppliers.service import (
    offer_add,
    suppliers_listed,
)
from inventory.suppliers.service import (
    supplier_archive as archive,
)
from inventory.suppliers.service import (
    supplier_bring_back as bring_back,
)

SAVED = "{name} is saved."
ARCHIVED = "{name} is archived. What they brought stays as it is."
BROUGHT_BACK = "{name} is back among the suppliers."
OFFERED = "{offer} is written down."
PRICE_SAVED = "{offer}: the new price is saved."
PRICE_WRONG = "{offer}: the price stays as it was. {why}"
NOT_OFFERED = "{offer} is taken off the list."
DELIVERIES_SHOWN = 5


@require_GET
def supplier_list(request: HttpRequest) -> HttpResponse:
    context = {
        "suppliers": suppliers_listed(is_archived=False),
        "archived": suppliers_listed(is_archived=True),
    }
    return render(request, "inventory/suppliers/supplier_list.html", context)


@require_http_methods(["GET", "POST"])
def supplier_new(request: HttpRequest) -> HttpResponse:
    form = SupplierForm(request.POST or None, currency=request.business.currency)
    if form.is_valid():
        supplier = form.save()
        messages.success(request, SAVED.format(name=supplier.name), "keep:supplier-new")
        return redirect("supplier_detail", pk=supplier.pk)
    status = 422 if form.is_bound else 200
    return render(request, "inventory/suppliers/supplier_form.html", {"form": form}, status=status)


@require_http_methods(["GET", "POST"])
def supplier_edit(request: HttpRequest, pk: int) -> HttpResponse:
    supplier = get_object_or_404(Supplier, pk=pk)
    name = supplier.name
    form = SupplierForm(request.POST or None, instance=supplier, currency=request.business.currency)
    if form.is_valid():
        form.save()
        messages.success(request, SAVED.format(name=supplier.name), f"keep:supplier-{pk}")
        return redirect("supplier_detail", pk=pk)
    context = {"form": form, "supplier": supplier, "name": name}
    status = 422 if form.is_bound else 200
    return render(request, "inventory/suppliers/supplier_form.html", context, status=status)


@require_http_methods(["GET", "POST"])
def supplier_detail(request: HttpRequest, pk: int) -> HttpResponse:
    """The supplier and the bags they offer; a POST adds one."""
    supplier = get_object_or_404(Supplier, pk=pk)
    form = OfferForm(request.POST or None, supplier=supplier, currency=request.business.currency)
    if form.is_valid():
        offer = offer_add(supplier=supplier, **form.cleaned_data)
        messages.success(request, OFFERED.format(offer=_said(offer)))
        return redirect("supplier_detail", pk=pk)
    context = {
        "supplier": supplier,
        "form": form,
        "offers": [
            (offer, OfferPriceForm.of(offer, currency=request.business.currency))
            for offer in supplier.bags_offered.select_related("item__colour")
        ],
        "deliveries": supplier.deliveries.all()[:DELIVERIES_SHOWN],
    }
    status = 422 if form.is_bound else 200
    return render(request, "inventory/suppliers/supplier_detail.html", context, status=status)


@require_POST
def supplier_offer_price(request: HttpRequest, pk: int) -> HttpResponse:
    offer = _offer(pk)
    form = OfferPriceForm(request.POST, currency=request.business.currency)
    if form.is_valid():
        offer.bag_cents = form.cleaned_data["bag_cents"]
        offer.save(update_fields=["bag_cents"])
        messages.success(request, PRICE_SAVED.format(offer=_said(offer)))
    else:
        why = " ".join(form.errors["bag_cents"])
        messages.error(request, PRICE_WRONG.format(offer=_said(offer), why=why))
    return redirect("supplier_detail", pk=offer.supplier_id)


@require_POST
def supplier_offer_remove(request: HttpRequest, pk: int) -> HttpResponse:
    offer = _offer(pk)
    offer.delete()
    messages.success(request, NOT_OFFERED.format(offer=_said(offer)))
    return redirect("supplier_detail", pk=offer.supplier_id)


@require_POST
def supplier_put_away(request: HttpRequest, pk: int) -> HttpResponse:
    supplier = get_object_or_404(Supplier, pk=pk)
    archive(supplier=supplier, now=timezone.now())
    messages.success(request, ARCHIVED.format(name=supplier.name))
    return redirect("supplier_list")


@require_POST
def supplier_take_up(request: HttpRequest, pk: int) -> HttpResponse:
    supplier = get_object_or_404(Supplier, pk=pk)
    bring_back(supplier=supplier)
    messages.success(request, BROUGHT_BACK.format(name=supplier.name))
    return redirect("supplier_list")


def _offer(pk: int) -> SupplierBag:
    offers = SupplierBag.objects.select_related("item__colour", "supplier")
    return get_object_or_404(offers, pk=pk)


def _said(offer: SupplierBag) -> str:
    return f"{capfirst(str(offer.item))}, bag of {offer.bag_count}"
