from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods

from inventory.bags.age import best_before
from inventory.ledger.fifo import fifo_of
from inventory.ledger.reading import lines_of_item
from inventory.losses.service import loss_of
from inventory.models import Item, ShelfSettings
from inventory.shelf.listing import (
    bags_at,
    bags_of,
    by_colour,
    places_listed,
    shelf_items,
    with_age,
)
from inventory.shelf.settings_form import ShelfSettingsForm

BAGS_A_PAGE = 60
LINES_A_PAGE = 50
SEARCH_LONGEST = 80
SAVED = "Saved."


@require_GET
def shelf(request: HttpRequest) -> HttpResponse:
    search = request.GET.get("search", "")[:SEARCH_LONGEST]
    items = shelf_items(search=search, best=best_before(today=timezone.localdate()))
    colours, sundries = by_colour(items)
    context = {
        "search": search,
        "colours": colours,
        "sundries": sundries,
        "balloons": sum(colour.left for colour in colours),
        "bags": sum(each.bags for each in items),
        "past_best": [each for each in items if each.past_best],
        "places": places_listed(),
    }
    return render(request, "inventory/shelf/shelf.html", context)


@require_GET
def shelf_place(request: HttpRequest) -> HttpResponse:
    """The bags of one place, in the order in which they would be used."""
    place = request.GET.get("name", "")
    page = Paginator(bags_at(place), BAGS_A_PAGE).get_page(request.GET.get("page"))
    best = best_before(today=timezone.localdate())
    context = {"place": place, "page": page, "bags": with_age(page, best)}
    return render(request, "inventory/shelf/place.html", context)


@require_GET
def shelf_item(request: HttpRequest, pk: int) -> HttpResponse:
    item = _item(pk)
    best = best_before(today=timezone.localdate())
    bags = with_age(bags_of(item), best)
    context = {
        "item": item,
        "bags": bags,
        "left": sum(bag.left for bag in bags),
        "places": sorted({bag.place for bag in bags if bag.place}),
        "worth": fifo_of(item).closing_cents,
        "loss": loss_of(item),
        "months": best.months,
        "offers": item.bags_offered.select_related("supplier").order_by("bag_count"),
    }
    return render(request, "inventory/shelf/item.html", context)


@require_GET
def shelf_item_ledger(request: HttpRequest, pk: int) -> HttpResponse:
    item = _item(pk)
    page = Paginator(lines_of_item(item), LINES_A_PAGE).get_page(request.GET.get("page"))
    return render(request, "inventory/shelf/item_ledger.html", {"item": item, "page": page})


@require_http_methods(["GET", "POST"])
def shelf_settings(request: HttpRequest) -> HttpResponse:
    settings = ShelfSettings.objects.filter(pk=ShelfSettings.THE_ONE).first()
    settings = settings or ShelfSettings(pk=ShelfSettings.THE_ONE)
    form = ShelfSettingsForm(request.POST or None, instance=settings)
    if form.is_valid():
        form.save()
        messages.success(request, SAVED, extra_tags="keep:shelf-settings")
        return redirect("shelf")
    status = 422 if form.is_bound else 200
    return render(request, "inventory/shelf/settings.html", {"form": form}, status=status)


def _item(pk: int) -> Item:
    return get_object_or_404(Item.objects.select_related("colour"), pk=pk)
