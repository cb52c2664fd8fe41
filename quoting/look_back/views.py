from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from decor.models import Job
from quoting.look_back.chart import hours_chart
from quoting.look_back.comparing import Compared, compare
from quoting.look_back.forms import HoursForm, LookBackForm
from quoting.look_back.service import (
    NOTHING_PLANNED,
    LookBackRefused,
    look_back_close,
    look_back_keep,
    look_back_open_again,
    look_back_refuse_early,
)
from quoting.making.working import work_type
from quoting.models import LookBack, WorkTime

SAVED = "Saved."
CLOSED = "Closed. What it took counts for the next estimates."
OPENED = "Open again: what it took does not count until you close it."
HOURS_KEPT = "The hours are kept."
HOURS_GONE = "Those hours are gone."


@require_GET
def look_back(request: HttpRequest, job_pk: int) -> HttpResponse:
    job = _job(job_pk)
    try:
        look_back_refuse_early(job)
    except LookBackRefused as refused:
        messages.warning(request, str(refused))
        return redirect("job_detail", pk=job_pk)
    return _page(request, job)


@require_POST
def look_back_save(request: HttpRequest, job_pk: int) -> HttpResponse:
    job = _job(job_pk)
    compared = compare(job)
    if compared is None:
        return _refused(request, job, NOTHING_PLANNED)
    form = LookBackForm(request.POST, kept=None, compared=compared)
    if not form.is_valid():
        return _page(request, job, form=form, status=422)
    try:
        look_back_keep(
            job=job,
            client_said=form.cleaned_data["client_said"],
            note=form.cleaned_data["note"],
            clusters_hung=form.clusters_hung(),
            left_out=form.cleaned_data["left_out"],
        )
        if "close" in request.POST:
            look_back_close(job=job, by=request.user, now=timezone.now())
    except LookBackRefused as refused:
        return _refused(request, job, str(refused))
    said = CLOSED if "close" in request.POST else SAVED
    messages.success(request, said, extra_tags=f"keep:look-back-{job_pk}")
    return redirect("look_back", job_pk=job_pk)


@require_POST
def look_back_reopen(request: HttpRequest, job_pk: int) -> HttpResponse:
    look_back_open_again(job=_job(job_pk))
    messages.success(request, OPENED)
    return redirect("look_back", job_pk=job_pk)


@require_POST
def look_back_hours(request: HttpRequest, job_pk: int) -> HttpResponse:
    job = _job(job_pk)
    form = HoursForm(request.POST, job=job, today=timezone.localdate())
    if not form.is_valid():
        return _page(request, job, hours_form=form, status=422)
    work_type(
        job=job,
        phase=form.cleaned_data["phase"],
        on=form.cleaned_data["on"],
        minutes=form.cleaned_data["worked"],
        people=form.cleaned_data["people"],
        visit=form.cleaned_data.get("revisit"),
        by=request.user,
    )
    messages.success(request, HOURS_KEPT, extra_tags=f"keep:hours-{job_pk}")
    return redirect("look_back", job_pk=job_pk)


@require_POST
def look_back_hours_remove(request: HttpRequest, job_pk: int, pk: int) -> HttpResponse:
    get_object_or_404(WorkTime, pk=pk, job=job_pk).delete()
    messages.success(request, HOURS_GONE)
    return redirect("look_back", job_pk=job_pk)


def _refused(request: HttpRequest, job: Job, said: str) -> HttpResponse:
    messages.warning(request, said)
    return redirect("look_back", job_pk=job.pk)


def _page(
    request: HttpRequest,
    job: Job,
    *,
    form: LookBackForm | None = None,
    hours_form: HoursForm | None = None,
    status: int = 200,
) -> HttpResponse:
    kept, compared = LookBack.objects.filter(job=job).first(), compare(job)
    context = {
        "job": job,
        "kept": kept,
        "compared": compared,
        "chart": hours_chart(compared.phases) if compared else None,
        "form": form or _form(kept, compared),
        "hours_form": hours_form or HoursForm(job=job, today=timezone.localdate()),
        "work_times": job.work_times.select_related("by", "visit"),
        "photos": job.photos.all(),
        "nothing_planned": NOTHING_PLANNED,
    }
    return render(request, "quoting/look_back/look_back.html", context, status=status)


def _form(kept: LookBack | None, compared: Compared | None) -> LookBackForm | None:
    return LookBackForm(kept=kept, compared=compared) if compared else None


def _job(pk: int) -> Job:
    return get_object_or_404(Job.objects.select_related("client", "site"), pk=pk)
