import json
from collections.abc import Mapping
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.text import slugify
from django.views.decorators.http import require_GET, require_POST

from decor.calendar.visits import VisitRefused
from decor.clients.keys import phone_to_dial
from decor.crew.access import helper_of, jobs_shown
from decor.documents.pdf import render_pdf
from decor.models import Visit
from quoting.documents.safety import SAFETY_NOTES
from quoting.installing.checklist import NoSuchCheck, check_set
from quoting.installing.clocks import clocks_at
from quoting.installing.forecast import forecast_keep, forecast_of
from quoting.installing.forms import ForecastForm, MaterialForm, SignForm
from quoting.installing.service import materials_return, materials_take, work_finish, work_sign
from quoting.installing.sheet import visit_sheet
from quoting.installing.told import NOT_ON_LIST, checks_take
from quoting.making.pressing import pressed
from quoting.making.ticks import told_take
from quoting.making.told import NOT_READ
from quoting.models import VisitMaterial

PDF_TEMPLATE = "quoting/installing/visit_pdf.html"
SIGNED = "Thank you. {name} signed for it."
FINISHED = "Done."
FORECAST_KEPT = "The forecast is kept, and the cautions follow it."
TAKEN = "{quantity} {item} are taken along."
GIVEN_BACK = "Back in their bag."


@require_GET
def visit_page(request: HttpRequest, pk: int) -> HttpResponse:
    return _page(request, _visit(request, pk))


@require_GET
def visit_pdf(request: HttpRequest, pk: int) -> HttpResponse:
    visit, now = _visit(request, pk), timezone.now()
    sheet = visit_sheet(visit, now=now)
    context = {"sheet": sheet, "safety_notes": SAFETY_NOTES, "now": now, **_contacts(visit)}
    made = render_pdf(PDF_TEMPLATE, context, sheet.business.paper)
    name = f"{visit.kind}-{slugify(visit.job.title)[:40]}.pdf"
    return HttpResponse(
        made,
        content_type="application/pdf",
        headers={"Content-Disposition": f'inline; filename="{name}"'},
    )


@require_POST
def visit_check(request: HttpRequest, pk: int) -> HttpResponse:
    """From a page without scripts: one line of the checklist on or off."""
    visit = _visit(request, pk)
    try:
        check_set(
            visit=visit,
            key=request.POST.get("key", ""),
            is_done=request.POST.get("done") == "yes",
            by=request.user,
            now=timezone.now(),
        )
    except NoSuchCheck:
        messages.warning(request, NOT_ON_LIST)
    return redirect(f"{reverse('visit_page', args=[pk])}#checklist")


@require_POST
def visit_told(request: HttpRequest, pk: int) -> JsonResponse:
    """From the script: all lines of the checklist that waited on the phone."""
    visit, now = _visit(request, pk), timezone.now()
    try:
        said = json.loads(request.body)
    except ValueError:
        said = None
    told = said.get("checks") if isinstance(said, Mapping) else None
    if not isinstance(told, list):
        return JsonResponse({"said": [NOT_READ]}, status=400)
    taken = checks_take(visit=visit, told=told, by=request.user, now=now)
    return JsonResponse(
        {
            "at": timezone.now().isoformat(),
            "taken": taken.taken,
            "refused": [{"key": each.key, "why": each.why} for each in taken.refused],
            "said": list(dict.fromkeys(each.why for each in taken.refused)),
            "checks": list(visit.check_marks.values_list("key", flat=True)),
        }
    )


@require_POST
def visit_clock(request: HttpRequest, pk: int) -> HttpResponse:
    """From a page without scripts: a clock is started or stopped."""
    visit, now = _visit(request, pk), timezone.now()
    for job, told in pressed(request.POST, {visit.job_id: visit.job}, now=now):
        for refused in told_take(job=job, told=told, by=request.user, now=now).refused:
            messages.warning(request, refused.why)
    return redirect(f"{reverse('visit_page', args=[pk])}#clocks")


@require_POST
def visit_forecast(request: HttpRequest, pk: int) -> HttpResponse:
    visit = _visit(request, pk)
    form = ForecastForm(request.POST, business=request.business, kept=None)
    if not form.is_valid():
        return _page(request, visit, forecast_form=form, status=422)
    forecast_keep(
        visit=visit,
        gust_mps=form.cleaned_data["gust"],
        site_c=form.cleaned_data["temperature"],
        rain=form.cleaned_data["rain"],
        source=form.cleaned_data["source"],
        now=timezone.now(),
    )
    messages.success(request, FORECAST_KEPT, extra_tags=f"keep:forecast-{pk}")
    return redirect("visit_page", pk=pk)


@require_POST
def visit_sign(request: HttpRequest, pk: int) -> HttpResponse:
    visit = _visit(request, pk)
    form = SignForm(request.POST, request.FILES)
    if not form.is_valid():
        return _page(request, visit, sign_form=form, status=422)
    try:
        receipt = work_sign(
            visit=visit,
            typed_name=form.cleaned_data["typed_name"],
            note=form.cleaned_data["note"],
            photo=form.picture,
            by=request.user,
            now=timezone.now(),
        )
    except VisitRefused as refused:
        messages.warning(request, str(refused))
    else:
        said = SIGNED.format(name=receipt.typed_name)
        messages.success(request, said, extra_tags=f"keep:sign-{pk}")
    return redirect("visit_page", pk=pk)


@require_POST
def visit_finish(request: HttpRequest, pk: int) -> HttpResponse:
    try:
        work_finish(visit=_visit(request, pk), by=request.user, now=timezone.now())
    except VisitRefused as refused:
        messages.warning(request, str(refused))
    else:
        messages.success(request, FINISHED)
    return redirect("visit_page", pk=pk)


@require_POST
def visit_take(request: HttpRequest, pk: int) -> HttpResponse:
    visit = _visit(request, pk)
    form = MaterialForm(request.POST)
    if not form.is_valid():
        return _page(request, visit, material_form=form, status=422)
    item, quantity = form.cleaned_data["item"], form.cleaned_data["quantity"]
    try:
        materials_take(
            visit=visit, item=item, quantity=quantity, by=request.user, now=timezone.now()
        )
    except VisitRefused as refused:
        form.add_error("quantity", str(refused))
        return _page(request, visit, material_form=form, status=422)
    messages.success(request, TAKEN.format(quantity=quantity, item=item))
    return redirect("visit_page", pk=pk)


@require_POST
def visit_give_back(request: HttpRequest, pk: int, material_pk: int) -> HttpResponse:
    materials = VisitMaterial.objects.select_related("line__bag", "visit__job")
    material = get_object_or_404(materials, pk=material_pk, visit=_visit(request, pk))
    materials_return(material=material, by=request.user, now=timezone.now())
    messages.success(request, GIVEN_BACK)
    return redirect("visit_page", pk=pk)


def _page(
    request: HttpRequest,
    visit: Visit,
    *,
    forecast_form: ForecastForm | None = None,
    sign_form: SignForm | None = None,
    material_form: MaterialForm | None = None,
    status: int = 200,
) -> HttpResponse:
    business, now = request.business, timezone.now()
    forecast_form = forecast_form or ForecastForm(business=business, kept=forecast_of(visit))
    context = {
        "sheet": visit_sheet(visit, now=now),
        "visit": visit,
        "job": visit.job,
        "is_helper": helper_of(request) is not None,
        "now_iso": now.isoformat(),
        "clocks": clocks_at(visit, now=now),
        "receipt": getattr(visit, "receipt", None),
        "forecast_form": forecast_form,
        "sign_form": sign_form or SignForm(),
        "material_form": material_form or MaterialForm(),
        "materials": visit.materials.select_related("line__bag__item__colour"),
        **_contacts(visit),
    }
    return render(request, "quoting/installing/visit_page.html", context, status=status)


def _contacts(visit: Visit) -> dict[str, Any]:
    """Whom to call from the place: the contact there first, and the client."""
    site, client = visit.job.site, visit.job.client
    found = [(client.name, client.phone)]
    if site is not None and site.contact_name:
        found.insert(0, (site.contact_name, site.contact_phone))
    return {
        "contacts": [
            {"name": name, "phone": phone, "to_dial": phone_to_dial(phone)} for name, phone in found
        ]
    }


def _visit(request: HttpRequest, pk: int) -> Visit:
    visits = Visit.objects.filter(job__in=jobs_shown(request))
    visits = visits.select_related("job__client", "job__site", "receipt__photo")
    return get_object_or_404(visits, pk=pk)
