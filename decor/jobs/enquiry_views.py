from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods

from decor.jobs.enquiry_form import EnquiryForm, people_asked, press_of
from decor.jobs.photos import is_tray, tray_fill, tray_photos, trays_forget
from decor.jobs.service import enquiry_take, job_of_press
from decor.models import Client, Job

TAKEN = "{title}: taken down."


@require_http_methods(["GET", "POST"])
def enquiry_new(request: HttpRequest) -> HttpResponse:
    if request.method == "GET":
        form = EnquiryForm(**_asked(request), initial=_first_typed(request))
        return _enquiry_page(request, form, tray="", status=200)
    form = EnquiryForm(request.POST, request.FILES, **_asked(request))
    is_complete = form.is_valid()
    # Asked after the form, which may wait for the photos while the first press is saved.
    if job := job_of_press(press_of(request.POST)):
        return _taken(request, form, job)
    tray = form.cleaned_data["tray"]
    tray_fill(tray=tray, pictures=form.pictures)
    if not is_complete:
        return _enquiry_page(request, form, tray=tray, status=422)
    job = enquiry_take(enquiry=form.enquiry(), by=request.user, now=timezone.now())
    trays_forget(now=timezone.now())
    return _taken(request, form, job)


def _taken(request: HttpRequest, form: EnquiryForm, job: Job) -> HttpResponse:
    messages.success(request, TAKEN.format(title=job.title), extra_tags=f"keep:{form.keep}")
    return redirect("job_detail", pk=job.pk)


@require_GET
def enquiry_same_people(request: HttpRequest) -> HttpResponse:
    """Part of the enquiry page: who it may be, as the name and contact are typed."""
    people = people_asked(
        name=_typed(request, "name"),
        contact=_typed(request, "contact"),
        who=request.GET.get("who", ""),
    )
    return render(request, "decor/jobs/partials/same_people.html", {"people": people})


def _typed(request: HttpRequest, name: str) -> str:
    """PostgreSQL takes no NUL in a text."""
    return request.GET.get(name, "").replace("\0", "").strip()[:120]


@require_GET
def enquiry_photos(request: HttpRequest) -> HttpResponse:
    """Part of the enquiry page: the photos in its tray, after what was typed is put back."""
    tray = request.GET.get("tray", "")
    photos = tray_photos(tray if is_tray(tray) else "")
    return render(request, "decor/jobs/partials/waiting_photos.html", {"waiting_photos": photos})


def _asked(request: HttpRequest) -> dict[str, Any]:
    """What the form must know: the day, and the client whose page led here."""
    return {"today": timezone.localdate(), "client_pk": request.GET.get("client", "")}


def _enquiry_page(
    request: HttpRequest, form: EnquiryForm, *, tray: str, status: int
) -> HttpResponse:
    context = {
        "form": form,
        "people": form.people,
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
