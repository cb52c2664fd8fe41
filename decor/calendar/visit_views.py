from django.contrib import messages
from django.db.models import QuerySet
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from decor.calendar.ics import event_ics
from decor.calendar.moments import hours_between_text
from decor.calendar.visit_forms import VisitForm
from decor.calendar.visits import (
    VisitClash,
    VisitRefused,
    visit_call_off,
    visit_done,
    visit_move,
    visit_not_done,
    visit_plan,
)
from decor.crew.access import jobs_shown
from decor.display import date_text
from decor.models import Job, Visit
from decor.models.visit import VisitKind

PLANNED = "{kind}: {when}."
CALLED_OFF = "The {kind} of {day} is called off."
DONE = "The {kind} is done."
NOT_DONE = (
    "The {kind} is not done yet. The job’s stage stays as it is: move it by hand if you must."
)


@require_http_methods(["GET", "POST"])
def visit_new(request: HttpRequest, pk: int, kind: str) -> HttpResponse:
    job = get_object_or_404(Job.objects.select_related("client", "site"), pk=pk)
    if kind not in VisitKind:
        raise Http404
    form = VisitForm(request.POST or None, job=job, kind=VisitKind(kind))
    if request.method == "POST" and form.is_valid():
        visit = _planned(form, job, VisitKind(kind))
        if visit:
            return _saved(request, visit, form)
    return _form_page(request, form, job, VisitKind(kind).label)


@require_http_methods(["GET", "POST"])
def visit_edit(request: HttpRequest, pk: int) -> HttpResponse:
    visit = _visit(pk)
    form = VisitForm(request.POST or None, job=visit.job, kind=visit.kind, visit=visit)
    if request.method == "POST" and form.is_valid():
        moved = _moved(form, visit)
        if moved:
            return _saved(request, moved, form)
    return _form_page(request, form, visit.job, visit.get_kind_display(), visit)


@require_http_methods(["GET", "POST"])
def visit_off(request: HttpRequest, pk: int) -> HttpResponse:
    """Asks first."""
    visit = _visit(pk)
    if request.method == "GET":
        return render(request, "decor/calendar/visit_off.html", {"visit": visit})
    try:
        visit_call_off(visit=visit, now=timezone.now())
    except VisitRefused as refused:
        messages.warning(request, str(refused))
    else:
        day = date_text(timezone.localtime(visit.starts_at).date())
        messages.success(request, CALLED_OFF.format(kind=_kind(visit), day=day))
    return redirect("job_detail", pk=visit.job_id)


@require_POST
def visit_mark(request: HttpRequest, pk: int) -> HttpResponse:
    """Done, or taken back."""
    visit = _visit(pk)
    try:
        if request.POST.get("done") == "no":
            visit_not_done(visit=visit)
            messages.success(request, NOT_DONE.format(kind=_kind(visit)))
        else:
            visit_done(visit=visit, by=request.user, now=timezone.now())
            messages.success(request, DONE.format(kind=_kind(visit)))
    except VisitRefused as refused:
        messages.warning(request, str(refused))
    return redirect("job_detail", pk=visit.job_id)


@require_GET
def visit_ics(request: HttpRequest, pk: int) -> HttpResponse:
    """A helper's are those of jobs that there are sheets of."""
    visit = get_object_or_404(_visits().filter(job__in=jobs_shown(request)), pk=pk)
    return HttpResponse(
        event_ics(visit, now=timezone.now()),
        content_type="text/calendar; charset=utf-8",
        headers={"Content-Disposition": f'attachment; filename="{visit.kind}-{visit.pk}.ics"'},
    )


def _visit(pk: int) -> Visit:
    return get_object_or_404(_visits(), pk=pk)


def _visits() -> QuerySet[Visit]:
    return Visit.objects.select_related("job__client", "job__site")


def _planned(form: VisitForm, job: Job, kind: VisitKind) -> Visit | None:
    try:
        return visit_plan(job=job, kind=kind, now=timezone.now(), **_what_was_said(form))
    except VisitClash as clash:
        form.clash(clash.problems)
    except VisitRefused as refused:
        form.add_error(None, str(refused))
    return None


def _moved(form: VisitForm, visit: Visit) -> Visit | None:
    try:
        return visit_move(visit=visit, now=timezone.now(), **_what_was_said(form))
    except VisitClash as clash:
        form.clash(clash.problems)
    except VisitRefused as refused:
        form.add_error(None, str(refused))
    return None


def _what_was_said(form: VisitForm) -> dict[str, object]:
    names = ("starts_at", "ends_at", "people", "travel_minutes", "note", "overruled_reason")
    return {"crew": list(form.cleaned_data["crew"])} | {
        name: form.cleaned_data[name] for name in names
    }


def _saved(request: HttpRequest, visit: Visit, form: VisitForm) -> HttpResponse:
    day = date_text(timezone.localtime(visit.starts_at).date())
    when = f"{day}, {hours_between_text(visit.starts_at, visit.ends_at)}"
    said = PLANNED.format(kind=visit.get_kind_display(), when=when)
    messages.success(request, said, extra_tags=f"keep:{form.keep}")
    return redirect("job_detail", pk=visit.job_id)


def _form_page(
    request: HttpRequest, form: VisitForm, job: Job, kind: str, visit: Visit | None = None
) -> HttpResponse:
    context = {"form": form, "job": job, "kind": kind, "visit": visit}
    status = 422 if form.is_bound else 200
    return render(request, "decor/calendar/visit_form.html", context, status=status)


def _kind(visit: Visit) -> str:
    return visit.get_kind_display().lower()
