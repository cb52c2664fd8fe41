from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_GET

from inventory.losses.service import CLEARLY_WORSE, SURE, TRIED_ENOUGH, losses


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
