from django.contrib import messages
from django.db.models import Prefetch
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from inventory.kit.forms import KitForm
from inventory.kit.service import kit_archive, kit_bring_back
from inventory.models import Kit, KitHold
from inventory.models.hold import OPEN_STATES

SAVED = "Saved."
ARCHIVED = "{kit} is archived. What is promised of it stays promised."
BROUGHT_BACK = "{kit} is back among the kit."


@require_GET
def shelf_kit(request: HttpRequest) -> HttpResponse:
    today = timezone.localdate()
    coming = KitHold.objects.filter(state__in=OPEN_STATES, until_on__gte=today)
    coming = coming.select_related("job__client").order_by("from_on")
    every = Kit.objects.prefetch_related(Prefetch("holds", queryset=coming, to_attr="coming"))
    context = {
        "kits": every.filter(archived_at=None),
        "archived": every.exclude(archived_at=None),
    }
    return render(request, "inventory/kit/shelf_kit.html", context)


@require_http_methods(["GET", "POST"])
def shelf_kit_add(request: HttpRequest) -> HttpResponse:
    return _form_page(request, Kit())


@require_http_methods(["GET", "POST"])
def shelf_kit_edit(request: HttpRequest, pk: int) -> HttpResponse:
    return _form_page(request, get_object_or_404(Kit, pk=pk))


@require_POST
def shelf_kit_archive(request: HttpRequest, pk: int) -> HttpResponse:
    kit = get_object_or_404(Kit, pk=pk)
    kit_archive(kit=kit, now=timezone.now())
    messages.success(request, ARCHIVED.format(kit=kit))
    return redirect("shelf_kit")


@require_POST
def shelf_kit_bring_back(request: HttpRequest, pk: int) -> HttpResponse:
    kit = get_object_or_404(Kit, pk=pk)
    kit_bring_back(kit=kit)
    messages.success(request, BROUGHT_BACK.format(kit=kit))
    return redirect("shelf_kit")


def _form_page(request: HttpRequest, kit: Kit) -> HttpResponse:
    key = f"kit-{kit.pk or 'new'}"
    form = KitForm(
        request.POST or None,
        instance=kit,
        keep=key,
        today=timezone.localdate(),
        back_url=reverse("shelf_kit"),
    )
    if request.method == "POST" and form.is_valid() and form.save_kit():
        messages.success(request, SAVED, extra_tags=f"keep:{key}")
        return redirect("shelf_kit")
    known = Kit.objects.filter(pk=kit.pk).first()
    status = 422 if form.is_bound else 200
    context = {"form": form, "kit": known}
    return render(request, "inventory/kit/kit_form.html", context, status=status)
