from django.contrib import messages
from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET, require_http_methods

from decor.business.forms import BusinessForm, time_zones
from decor.business.service import business_logo_set
from decor.media import picture_response
from decor.models import Business

SAVED = "Saved. New pages and quotes use it from now on."


@require_http_methods(["GET", "POST"])
def business_edit(request: HttpRequest) -> HttpResponse:
    business = Business.objects.get(pk=request.business.pk)
    form = BusinessForm(request.POST or None, request.FILES or None, instance=business)
    is_complete = form.is_valid()
    if is_complete:
        form.save()
    if form.picture:  # kept even where another field is refused: a browser forgets chosen files
        business_logo_set(picture=form.picture)
    elif is_complete and form.cleaned_data["no_logo"]:
        business_logo_set(picture=None)
    if is_complete:
        messages.success(request, SAVED, extra_tags="keep:business")
        return redirect("business_edit")
    context = {"form": form, "time_zones": time_zones()}
    status = 422 if form.is_bound else 200
    return render(request, "decor/business/business_edit.html", context, status=status)


@require_GET
def business_logo(request: HttpRequest) -> FileResponse:
    if not request.business.logo:
        raise Http404
    return picture_response(request.business.logo)
