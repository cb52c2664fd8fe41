from urllib.parse import quote

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from decor.calendar.of_job import does_not_fit
from decor.clients.service import site_at
from decor.jobs.forms import JobForm, JobSearchForm, MoveForm, PhotosForm
from decor.jobs.lists import When, jobs_found
from decor.jobs.service import job_archive as archive
from decor.jobs.service import job_bring_back as bring_back
from decor.jobs.stages import ENDED_EARLY, MoveRefused, ways_from
from decor.jobs.stages import job_move as move
from decor.models import Job, Visit
from decor.models.visit import VisitKind

JOBS_A_PAGE = 25
ARCHIVED = "{title} is archived. It is kept, out of the way."
BROUGHT_BACK = "{title} is back among the jobs."
MOVED = "{title} is now “{stage}”."
SAVED = "Saved."
VISITS_STAY = "What was planned for it has not moved: look at its visits."


@require_GET
def job_list(request: HttpRequest) -> HttpResponse:
    form = JobSearchForm(request.GET)
    wanted = form.wanted()
    jobs = jobs_found(**wanted, today=timezone.localdate())
    page = Paginator(jobs, JOBS_A_PAGE).get_page(request.GET.get("page"))
    context = {
        "form": form,
        "wanted": wanted,
        "list_in_words": form.in_words(),
        "all_jobs_url": f"{reverse('job_list')}?when=all&search={quote(wanted['search'])}",
        "page": page,
        "whens": When,
        "today": timezone.localdate(),
        "has_any": page.object_list or Job.objects.exists(),
    }
    return render(request, "decor/jobs/job_list.html", context)


@require_GET
def job_detail(request: HttpRequest, pk: int) -> HttpResponse:
    return job_page(request, _job(pk), status=200)


@require_http_methods(["GET", "POST"])
def job_edit(request: HttpRequest, pk: int) -> HttpResponse:
    job = _job(pk)
    form = JobForm(request.POST or None, instance=job, today=timezone.localdate())
    if request.method == "POST" and form.is_valid():
        _save_with_place(form)
        messages.success(request, SAVED, extra_tags=f"keep:job-{pk}")
        if does_not_fit(job):
            messages.warning(request, VISITS_STAY)
        return redirect("job_detail", pk=job.pk)
    status = 422 if form.is_bound else 200
    context = {"form": form, "job": Job.objects.select_related("client").get(pk=pk)}
    return render(request, "decor/jobs/job_edit.html", context, status=status)


@require_POST
def job_move(request: HttpRequest, pk: int) -> HttpResponse:
    job = _job(pk)
    form = MoveForm(request.POST, stage=job.stage)
    if request.POST.get("to") == job.stage:
        form.fields["to"].choices = [(job.stage, job.stage)]
    if not form.is_valid():
        return job_page(request, job, move_form=form, status=422)
    try:
        moved = move(
            job=job,
            to=form.cleaned_data["to"],
            by=request.user,
            reason=form.cleaned_data["reason"],
            now=timezone.now(),
        )
    except MoveRefused as refused:
        messages.warning(request, str(refused))
    else:
        stage = moved.get_to_stage_display()
        messages.success(request, MOVED.format(title=job.title, stage=stage))
    return redirect("job_detail", pk=job.pk)


@require_POST
def job_archive(request: HttpRequest, pk: int) -> HttpResponse:
    job = _job(pk)
    archive(job=job, now=timezone.now())
    messages.success(request, ARCHIVED.format(title=job.title))
    return redirect("job_detail", pk=job.pk)


@require_POST
def job_bring_back(request: HttpRequest, pk: int) -> HttpResponse:
    job = _job(pk)
    bring_back(job=job)
    messages.success(request, BROUGHT_BACK.format(title=job.title))
    return redirect("job_detail", pk=job.pk)


def job_page(
    request: HttpRequest,
    job: Job,
    *,
    status: int,
    move_form: MoveForm | None = None,
    photos_form: PhotosForm | None = None,
) -> HttpResponse:
    """The whole job; also what is answered where a move or a photo was refused."""
    onward = next((way.to for way in ways_from(job.stage) if way.is_onward), None)
    moves = list(job.stage_moves.select_related("moved_by").reverse())
    context = {
        "job": job,
        "ended_after": moves[0].from_stage if moves and job.stage in ENDED_EARLY else "",
        "today": timezone.localdate(),
        "onward": onward,
        "install": _install(job),
        "move_form": move_form or MoveForm(stage=job.stage, initial={"to": request.GET.get("to")}),
        "photos_form": photos_form or PhotosForm(),
        "photos": job.photos.all(),
        "moves": moves,
        "other_jobs": job.client.jobs.exclude(pk=job.pk).filter(archived_at=None)[:5],
    }
    return render(request, "decor/jobs/job_detail.html", context, status=status)


def _install(job: Job) -> Visit | None:
    """The one still to come."""
    planned = job.visits.filter(kind=VisitKind.INSTALL, called_off_at=None, done_at=None)
    return planned.first()


def _job(pk: int) -> Job:
    return get_object_or_404(Job.objects.select_related("client", "site"), pk=pk)


def _save_with_place(form: JobForm) -> None:
    job = form.instance
    if form.cleaned_data["new_place"]:
        job.site = site_at(
            client=job.client,
            name=form.cleaned_data["new_place"],
            is_outdoor=form.cleaned_data["is_outdoor"],
        )
    form.save()
