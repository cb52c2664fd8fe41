from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from decor.calendar.capacity import hours_free
from decor.calendar.session_forms import SessionForm
from decor.calendar.sessions import SessionRefused, session_call_off, session_move, session_plan
from decor.calendar.words import over_text
from decor.display import date_text, hours_text
from decor.models import Job, MakingSession

PLANNED = "{hours} at the bench on {day}."
TOO_MUCH = "{day} is too full: {said}"
CALLED_OFF = "The hours on {day} are called off."


@require_http_methods(["GET", "POST"])
def session_new(request: HttpRequest, pk: int) -> HttpResponse:
    job = get_object_or_404(Job.objects.select_related("client"), pk=pk)
    form = SessionForm(request.POST or None, job=job)
    if request.method == "POST" and form.is_valid():
        try:
            session = session_plan(job=job, is_fixed=True, now=timezone.now(), **form.cleaned_data)
        except SessionRefused as refused:
            form.add_error(None, str(refused))
        else:
            return _saved(request, session, form)
    return _form_page(request, form, job)


@require_http_methods(["GET", "POST"])
def session_edit(request: HttpRequest, pk: int) -> HttpResponse:
    session = _session(pk)
    form = SessionForm(request.POST or None, job=session.job, session=session)
    if request.method == "POST" and form.is_valid():
        try:
            moved = session_move(session=session, now=timezone.now(), **form.cleaned_data)
        except SessionRefused as refused:
            form.add_error(None, str(refused))
        else:
            return _saved(request, moved, form)
    return _form_page(request, form, session.job, session)


@require_POST
def session_off(request: HttpRequest, pk: int) -> HttpResponse:
    """Not asked about: the same hours are planned again in a moment."""
    session = _session(pk)
    session_call_off(session=session, now=timezone.now())
    if session.called_off_at:
        messages.success(request, CALLED_OFF.format(day=date_text(session.on)))
    return redirect("job_detail", pk=session.job_id)


def _session(pk: int) -> MakingSession:
    return get_object_or_404(MakingSession.objects.select_related("job__client"), pk=pk)


def _saved(request: HttpRequest, session: MakingSession, form: SessionForm) -> HttpResponse:
    """More than there are hours for is kept, and said."""
    day = date_text(session.on)
    said = PLANNED.format(hours=hours_text(session.minutes / 60), day=day)
    messages.success(request, said, extra_tags=f"keep:{form.keep}")
    over = over_text(hours_free(session.on))
    if over:
        messages.warning(request, TOO_MUCH.format(day=day, said=" ".join(over)))
    return redirect("job_detail", pk=session.job_id)


def _form_page(
    request: HttpRequest, form: SessionForm, job: Job, session: MakingSession | None = None
) -> HttpResponse:
    context = {"form": form, "job": job, "session": session}
    status = 422 if form.is_bound else 200
    return render(request, "decor/calendar/session_form.html", context, status=status)
