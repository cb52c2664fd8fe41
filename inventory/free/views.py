from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.views.decorators.http import require_GET

from inventory.free.drawing import timeline_drawing
from inventory.free.forms import DayForm
from inventory.free.listed import free_listed
from inventory.free.timeline import free_timeline
from inventory.models import Item


@require_GET
def shelf_free(request: HttpRequest) -> HttpResponse:
    today = timezone.localdate()
    form = DayForm(request.GET if "on" in request.GET else None, today=today)
    on = form.day()
    groups = free_listed(on=on, today=today)
    context = {"form": form, "on": on, "groups": groups, "is_today": on == today}
    return render(request, "inventory/free/shelf_free.html", context)


@require_GET
def shelf_timeline(request: HttpRequest, pk: int) -> HttpResponse:
    item = get_object_or_404(Item.objects.select_related("colour"), pk=pk)
    today = timezone.localdate()
    timeline = free_timeline(item, today=today)
    context = {
        "item": item,
        "timeline": timeline,
        "drawing": timeline_drawing(timeline, today=today),
        "today": today,
    }
    return render(request, "inventory/free/shelf_timeline.html", context)
