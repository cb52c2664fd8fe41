from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from decor.models import Job
from inventory.holds.page import held_page
from inventory.holds.service import hold_firm
from inventory.holds.taking import hold_take
from inventory.kit.forms import KitHoldForm
from inventory.kit.service import KitRefused, kit_give_back, kit_hold, kit_holds_open
from inventory.models import Hold, Kit, KitHold

FIRM = "What is held for {job} is firm now."
TAKEN = "{count} {item} taken for {job}."
KIT_HELD = "{quantity} × {kit} held for {job}."
KIT_FREE = "{kit} is free again."


@require_GET
def shelf_job(request: HttpRequest, job_pk: int) -> HttpResponse:
    return _page(request, _job(job_pk))


@require_POST
def shelf_job_firm(request: HttpRequest, job_pk: int) -> HttpResponse:
    job = _job(job_pk)
    hold_firm(job=job, now=timezone.now())
    messages.success(request, FIRM.format(job=job))
    return redirect("shelf_job", job_pk=job_pk)


@require_POST
def shelf_hold_take(request: HttpRequest, pk: int) -> HttpResponse:
    hold = get_object_or_404(Hold.objects.select_related("job", "item__colour"), pk=pk)
    count = hold_take(hold=hold, by=request.user, now=timezone.now())
    messages.success(request, TAKEN.format(count=count, item=hold.item, job=hold.job))
    return redirect("shelf_job", job_pk=hold.job_id)


@require_POST
def shelf_job_kit(request: HttpRequest, job_pk: int) -> HttpResponse:
    job = _job(job_pk)
    form = KitHoldForm(request.POST, job=job, today=timezone.localdate())
    if not form.is_valid():
        return _page(request, job, kit_form=form, status=422)
    try:
        hold = kit_hold(job=job, now=timezone.now(), **form.cleaned_data)
    except KitRefused as refused:
        form.add_error("quantity", str(refused))
        return _page(request, job, kit_form=form, status=422)
    said = KIT_HELD.format(quantity=hold.quantity, kit=hold.kit, job=job)
    messages.success(request, said)
    return redirect("shelf_job", job_pk=job_pk)


@require_POST
def shelf_kit_give_back(request: HttpRequest, pk: int) -> HttpResponse:
    hold = get_object_or_404(KitHold.objects.select_related("kit"), pk=pk)
    kit_give_back(hold=hold, now=timezone.now())
    messages.success(request, KIT_FREE.format(kit=hold.kit))
    return redirect("shelf_job", job_pk=hold.job_id)


def _job(pk: int) -> Job:
    return get_object_or_404(Job.objects.select_related("client", "site"), pk=pk)


def _page(
    request: HttpRequest, job: Job, *, kit_form: KitHoldForm | None = None, status: int = 200
) -> HttpResponse:
    context = {
        "job": job,
        "page": held_page(job),
        "kit_holds": kit_holds_open(job),
        "kit_form": kit_form or KitHoldForm(job=job, today=timezone.localdate()),
        "has_kit": Kit.objects.filter(archived_at=None).exists(),
        "needs": job.needs.select_related("item__colour", "supplier"),
    }
    return render(request, "inventory/holds/shelf_job.html", context, status=status)
