from django.contrib import messages
from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from decor.crew.access import photos_shown
from decor.jobs.forms import PhotosForm
from decor.jobs.photos import photo_remove as remove
from decor.jobs.photos import photos_add
from decor.jobs.views import job_page
from decor.media import picture_response, small_photo_response
from decor.models import Job, JobPhoto

REMOVED = "The photo is gone."


@require_GET
def photo(request: HttpRequest, pk: int) -> FileResponse:
    return picture_response(get_object_or_404(photos_shown(request), pk=pk).image)


@require_GET
def photo_small(request: HttpRequest, pk: int) -> HttpResponse:
    return small_photo_response(get_object_or_404(photos_shown(request), pk=pk).image)


@require_POST
def job_photo_add(request: HttpRequest, pk: int) -> HttpResponse:
    job = get_object_or_404(Job.objects.select_related("client", "site"), pk=pk)
    form = PhotosForm(request.POST, request.FILES)
    is_complete = form.is_valid()
    photos_add(job=job, pictures=form.pictures)
    if not is_complete:
        return job_page(request, job, photos_form=form, status=422)
    return redirect("job_detail", pk=job.pk)


@require_http_methods(["GET", "POST"])
def photo_remove(request: HttpRequest, pk: int) -> HttpResponse:
    """Asks first: a photo once gone cannot be brought back."""
    photo = get_object_or_404(JobPhoto.objects.select_related("job"), pk=pk)
    if photo.job is None:
        raise Http404
    if request.method == "GET":
        return render(request, "decor/jobs/photo_remove.html", {"photo": photo, "job": photo.job})
    job = photo.job
    remove(photo)
    messages.success(request, REMOVED)
    return redirect("job_detail", pk=job.pk)
