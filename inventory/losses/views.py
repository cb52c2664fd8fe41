from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_GET

from inventory.losses.service import CLEARLY_WORSE, SURE, TRIED_ENOUGH, loss_of, losses
from inventory.models import Item


@require_GET
def loss_list(request: HttpRequest) -> HttpResponse:
    found = losses()
    context = {
        "losses": found,
        "worse": [(each.item, lot) for each in found for lot in each.worse_lots],
        "sure": SURE,
        "clearly": CLEARLY_WORSE,
        "tried_enough": TRIED_ENOUGH,
    }
    return render(request, "inventory/losses/loss_list.html", context)


@require_GET
def loss_item(request: HttpRequest, pk: int) -> HttpResponse:
    """Every lot of one item."""
    item = get_object_or_404(Item.objects.select_related("colour"), pk=pk)
    return render(request, "inventory/losses/loss_item.html", {"item": item, "each": loss_of(item)})
