from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
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
    form = SiteForm(request.POST or None, instance=site, units=request.business.units)
    job = _job_come_from(request, site)
    if request.method == "POST" and form.is_valid():
        form.save()
        messages.success(request, SAVED.format(place=site.name))
        return redirect("job_detail", job.pk) if job else redirect("client_detail", site.client.pk)
    context = {"form": form, "client": site.client, "site_pk": site.pk, "job": job}
    status = 422 if form.is_bound else 200
    return render(request, "decor/clients/site_form.html", context, status=status)


def _job_come_from(request: HttpRequest, site: Site) -> Job | None:
    """The job whose page led here, to go back to it."""
    pk = request.GET.get("job", "")
    return Job.objects.filter(pk=pk, client=site.client).first() if pk.isdecimal() else None
