from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from decor.clients.forms import SiteForm
from decor.models import Client, Job, Site

SAVED = "{place}: saved."


@require_http_methods(["GET", "POST"])
def site_add(request: HttpRequest, pk: int) -> HttpResponse:
    client = get_object_or_404(Client, pk=pk)
    return _site_page(request, Site(client=client))


@require_http_methods(["GET", "POST"])
def site_edit(request: HttpRequest, pk: int) -> HttpResponse:
    return _site_page(request, get_object_or_404(Site.objects.select_related("client"), pk=pk))


def _site_page(request: HttpRequest, site: Site) -> HttpResponse:
    job = _job_come_from(request, site)
    back = reverse("job_detail", args=[job.pk]) if job else _client_url(site)
    form = SiteForm(
        request.POST or None, instance=site, units=request.business.units, back_url=back
    )
    if request.method == "POST" and form.is_valid():
        form.save()
        place = SAVED.format(place=site.name)
        messages.success(request, place, extra_tags=f"keep:{form.keep}")
        return redirect(back)
    context = {"form": form, "client": site.client, "is_new": site.pk is None, "job": job}
    status = 422 if form.is_bound else 200
    return render(request, "decor/clients/site_form.html", context, status=status)


def _client_url(site: Site) -> str:
    return reverse("client_detail", args=[site.client_id])


def _job_come_from(request: HttpRequest, site: Site) -> Job | None:
    """The job whose page led here, to go back to it."""
    pk = request.GET.get("job", "")
    return Job.objects.filter(pk=pk, client=site.client).first() if pk.isdecimal() else None
