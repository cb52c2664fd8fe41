from django.contrib import messages
from django.core.exceptions import ValidationError
from django.forms import Form
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from inventory.catalogue import service
from inventory.catalogue.forms import ColourForm, SundryForm
from inventory.catalogue.starter import STARTER_COLOURS, add_starter_catalogue
from inventory.models import Colour, Item
from inventory.models.item import Kind

SAVED = "{name} is saved."
ARCHIVED = "{name} is archived: it is no longer offered. Quotes that hold it keep it."
SUNDRY_ARCHIVED = "{name} is archived."
BROUGHT_BACK = "{name} is back in the catalogue."
STARTED = "{count} colours are added. Put your own prices in: these are only examples."
STARTED_BEFORE = "All of these colours are in your catalogue already."


@require_GET
def catalogue(request: HttpRequest) -> HttpResponse:
    context = {
        "colours": service.colours_listed(is_archived=False),
        "sundries": service.sundries_listed(is_archived=False),
        "unpriced": service.sundries_without_a_price(),
        "archived_colours": service.colours_listed(is_archived=True),
        "archived_sundries": service.sundries_listed(is_archived=True),
        "starter_colours": STARTER_COLOURS,
    }
    return render(request, "inventory/catalogue/catalogue.html", context)


@require_POST
def catalogue_start(request: HttpRequest) -> HttpResponse:
    count = add_starter_catalogue()
    messages.success(request, STARTED.format(count=count) if count else STARTED_BEFORE)
    return redirect("catalogue")


@require_http_methods(["GET", "POST"])
def colour_add(request: HttpRequest) -> HttpResponse:
    form = ColourForm(request.POST or None, currency=request.business.currency)
    if form.is_valid() and _colour_saved(form):
        return _saved(request, form, keep="colour-new")
    return _form_page(request, "inventory/catalogue/colour_form.html", form)


@require_http_methods(["GET", "POST"])
def colour_edit(request: HttpRequest, pk: int) -> HttpResponse:
    colour = get_object_or_404(Colour, pk=pk)
    form = ColourForm(request.POST or None, currency=request.business.currency, colour=colour)
    name = colour.name
    if form.is_valid() and _colour_saved(form):
        to = ("colour_measure", pk) if request.POST.get("then") == "measure" else ("catalogue",)
        return _saved(request, form, keep=f"colour-{pk}", to=to)
    return _form_page(
        request, "inventory/catalogue/colour_form.html", form, colour=colour, name=name
    )


def _colour_saved(form: ColourForm) -> bool:
    said = {
        "name": form.cleaned_data["name"],
        "hex_value": form.cleaned_data["hex"],
        "finish": form.cleaned_data["finish"],
        "bags": form.bags(),
        "now": timezone.now(),
    }
    try:
        if form.colour:
            service.colour_change(colour=form.colour, **said)
        else:
            service.colour_add(**said)
    except ValidationError as refused:  # someone else took the name since the form was checked
        form.add_error(None, refused.messages)
        return False
    return True


@require_POST
def colour_archive(request: HttpRequest, pk: int) -> HttpResponse:
    colour = get_object_or_404(Colour, pk=pk)
    service.colour_archive(colour=colour, now=timezone.now())
    messages.success(request, ARCHIVED.format(name=colour.name))
    return redirect("catalogue")


@require_POST
def colour_bring_back(request: HttpRequest, pk: int) -> HttpResponse:
    colour = get_object_or_404(Colour, pk=pk)
    service.colour_bring_back(colour=colour)
    messages.success(request, BROUGHT_BACK.format(name=colour.name))
    return redirect("catalogue")


@require_http_methods(["GET", "POST"])
def item_add(request: HttpRequest) -> HttpResponse:
    form = SundryForm(
        request.POST or None,
        currency=request.business.currency,
        name=request.GET.get("name", "")[:60],
    )
    if form.is_valid() and _sundry_saved(form):
        return _saved(request, form, keep="sundry-new")
    return _form_page(request, "inventory/catalogue/sundry_form.html", form)


@require_http_methods(["GET", "POST"])
def item_edit(request: HttpRequest, pk: int) -> HttpResponse:
    """Balloons are changed with their colour, all sizes together."""
    item = get_object_or_404(Item, pk=pk)
    if item.kind != Kind.SUNDRY:
        return redirect("colour_edit", pk=item.colour_id)
    form = SundryForm(request.POST or None, currency=request.business.currency, sundry=item)
    name = item.name
    if form.is_valid() and _sundry_saved(form):
        return _saved(request, form, keep=f"sundry-{pk}")
    return _form_page(request, "inventory/catalogue/sundry_form.html", form, sundry=item, name=name)


def _sundry_saved(form: SundryForm) -> bool:
    said = {
        "name": form.cleaned_data["name"],
        "unit": form.cleaned_data["unit"],
        "bag": form.bag(),
    }
    try:
        if form.sundry:
            service.sundry_change(sundry=form.sundry, **said)
        else:
            service.sundry_add(**said)
    except ValidationError as refused:  # someone else took the name since the form was checked
        form.add_error(None, refused.messages)
        return False
    return True


@require_POST
def item_archive(request: HttpRequest, pk: int) -> HttpResponse:
    sundry = get_object_or_404(Item, pk=pk, kind=Kind.SUNDRY)
    service.sundry_archive(sundry=sundry, now=timezone.now())
    messages.success(request, SUNDRY_ARCHIVED.format(name=sundry.name.capitalize()))
    return redirect("catalogue")


@require_POST
def item_bring_back(request: HttpRequest, pk: int) -> HttpResponse:
    sundry = get_object_or_404(Item, pk=pk, kind=Kind.SUNDRY)
    service.sundry_bring_back(sundry=sundry)
    messages.success(request, BROUGHT_BACK.format(name=sundry.name.capitalize()))
    return redirect("catalogue")


def _saved(
    request: HttpRequest, form: Form, *, keep: str, to: tuple[object, ...] = ("catalogue",)
) -> HttpResponse:
    name = form.cleaned_data["name"]
    messages.success(request, SAVED.format(name=name[:1].upper() + name[1:]), f"keep:{keep}")
    return redirect(*to)


def _form_page(request: HttpRequest, template: str, form: Form, **context: object) -> HttpResponse:
    status = 422 if form.is_bound else 200
    return render(request, template, {"form": form, **context}, status=status)
