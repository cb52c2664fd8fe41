from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from decor.calendar.sessions import SessionRefused, session_pin
from decor.crew.access import helper_of
from decor.models import MakingSession
from quoting.bench.page import bench_page
from quoting.bench.service import bench_plan
from quoting.bench.telling import tell

AS_IT_WAS = "The plan stays as it is."


@require_GET
def bench(request: HttpRequest) -> HttpResponse:
    context = {
        "page": bench_page(now=timezone.now()),
        "today": timezone.localdate(),
        "is_helper": helper_of(request) is not None,
    }
    return render(request, "quoting/bench/bench.html", context)


@require_POST
def bench_plan_anew(request: HttpRequest) -> HttpResponse:
    planned = bench_plan(now=timezone.now())
    tell(request, planned)
    if not planned.moved:
        messages.success(request, AS_IT_WAS)
    return redirect("bench")


@require_POST
def bench_pin(request: HttpRequest, pk: int) -> HttpResponse:
    session = get_object_or_404(MakingSession, pk=pk)
    try:
        session_pin(session=session, is_fixed=request.POST.get("fixed") == "yes")
    except SessionRefused as refused:
        messages.warning(request, str(refused))
    return redirect("bench")
