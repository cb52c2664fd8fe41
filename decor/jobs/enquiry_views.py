from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods

from decor.jobs.enquiry_form import EnquiryForm, people_asked
from decor.jobs.photos import tray_fill, tray_new, tray_photos, trays_forget
from decor.jobs.service import enquiry_take
from decor.models import Client

TAKEN = "{title}: taken down."


@require_http_methods(["GET", "POST"])
def enquiry_new(request: HttpRequest) -> HttpResponse:
    if request.method == "GET":
        form = EnquiryForm(initial=_first_typed(request), today=timezone.localdate())
        return _enquiry_page(request, form, tray="", status=200)
    form = EnquiryForm(request.POST, request.FILES, today=timezone.localdate())
    is_complete = form.is_valid()
    tray = form.cleaned_data["tray"]
    tray_fill(tray=tray, pictures=form.pictures)
    if not is_complete:
        return _enquiry_page(request, form, tray=tray, status=422)
    job = enquiry_take(enquiry=form.enquiry(), by=request.user, now=timezone.now())
    trays_forget(now=timezone.now())
    messages.success(request, TAKEN.format(title=job.title))
    return redirect("job_detail", pk=job.pk)


@require_GET
def enquiry_same_people(request: HttpRequest) -> HttpResponse:
    """Part of the enquiry page: who it may be, as the name and contact are typed."""
    people = people_asked(
        name=request.GET.get("name", "").strip(),
        contact=request.GET.get("contact", "").strip(),
        who=request.GET.get("who", ""),
    )
    return render(request, "decor/jobs/partials/same_people.html", {"people": people})


def _enquiry_page(
    request: HttpRequest, form: EnquiryForm, *, tray: str, status: int
) -> HttpResponse:
    context = {
        "form": form,
        "people": form.people,
        "tray": tray or tray_new(),
        "waiting_photos": tray_photos(tray),
    }
    return render(request, "decor/jobs/enquiry_new.html", context, status=status)


def _first_typed(request: HttpRequest) -> dict[str, str]:
    """From a client's page the client is chosen already."""
    pk = request.GET.get("client", "")
    client = Client.objects.filter(pk=pk).first() if pk.isdecimal() else None
    if client is None:
        return {}
    contact = client.email or client.phone or client.other_contact
    return {"who": str(client.pk), "name": client.name, "contact": contact}
