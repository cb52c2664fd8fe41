from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from decor.business.forms import time_zones
from quoting.first_run.forms import FirstRunForm
from quoting.first_run.service import AlreadyBegun, business_begin

BEGUN = "{name} is set up. Take your first enquiry when it comes."


@require_http_methods(["GET", "POST"])
def first_run(request: HttpRequest) -> HttpResponse:
    if request.business is not None:
        return redirect("home")
    form = FirstRunForm(request.POST or None)
    if form.is_valid():
        return _begun(request, form)
    context = {"form": form, "time_zones": time_zones()}
    status = 422 if form.is_bound else 200
    return render(request, "quoting/first_run/first_run.html", context, status=status)


def _begun(request: HttpRequest, form: FirstRunForm) -> HttpResponse:
    try:
        business = business_begin(answers=form.answers(), by=request.user, now=timezone.now())
    except AlreadyBegun:  # sent twice
        return redirect("home")
    messages.success(request, BEGUN.format(name=business.name), "keep:first-run")
    return redirect("home")
