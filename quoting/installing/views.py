from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.text import slugify
from django.views.decorators.http import require_GET, require_POST

from decor.calendar.visits import VisitRefused
from decor.crew.access import helper_of, jobs_shown
from decor.documents.pdf import render_pdf
from decor.models import Visit
from quoting.documents.safety import SAFETY_NOTES
from quoting.installing.checklist import NoSuchCheck, check_set
from quoting.installing.forecast import forecast_keep, forecast_of
from quoting.installing.forms import ForecastForm, MaterialForm, SignForm
from quoting.installing.service import materials_return, materials_take, work_finish, work_sign
from quoting.installing.sheet import visit_sheet
from quoting.models import VisitMaterial

PDF_TEMPLATE = "quoting/installing/visit_pdf.html"
SIGNED = "Thank you. {name} signed for it."
FINISHED = "Done."
FORECAST_KEPT = "The forecast is kept, and the cautions follow it."
TAKEN = "{quantity} {item} are taken along."
GIVEN_BACK = "Back in their bag."
NOT_ON_LIST = "That line is not on this list."


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
    """One line of the checklist on or off; without a script the whole page comes back."""
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
    if request.htmx:
        sheet = visit_sheet(visit, now=timezone.now(), with_pictures=False)
        return render(request, "quoting/installing/partials/checklist.html", {"sheet": sheet})
    return redirect("visit_page", pk=pk)


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
    business = request.business
    forecast_form = forecast_form or ForecastForm(business=business, kept=forecast_of(visit))
    context = {
        "sheet": visit_sheet(visit, now=timezone.now()),
        "visit": visit,
        "job": visit.job,
        "is_helper": helper_of(request) is not None,
        "receipt": getattr(visit, "receipt", None),
        "forecast_form": forecast_form,
        "sign_form": sign_form or SignForm(),
        "material_form": material_form or MaterialForm(),
        "materials": visit.materials.select_related("line__bag__item__colour"),
        **_contacts(visit),
    }
    return render(request, "quoting/installing/visit_page.html", context, status=status)


def _contacts(visit: Visit) -> dict[str, Any]:
    """Whom to call from the place: the contact there, else the client."""
    site, client = visit.job.site, visit.job.client
    has_own = site is not None and site.contact_name
    return {
        "contact_name": site.contact_name if has_own else client.name,
        "contact_phone": site.contact_phone if has_own else client.phone,
    }


def _visit(request: HttpRequest, pk: int) -> Visit:
    visits = Visit.objects.filter(job__in=jobs_shown(request))
    visits = visits.select_related("job__client", "job__site", "receipt__photo")
    return get_object_or_404(visits, pk=pk)
