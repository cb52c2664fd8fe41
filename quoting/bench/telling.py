"""After what changes jobs or hours the bench is planned anew, and the owner is told what moved."""

from collections.abc import Callable

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from decor.crew.access import helper_of
from quoting.bench.service import Planned, bench_plan

# Names of the pages whose answer to a post may have moved a job, a visit, a session or hours.
CHANGES_THE_BENCH = frozenset(
    {
        "business_edit",
        "client_page_accept",
        "crew_archive",
        "crew_bring_back",
        "crew_edit",
        "crew_new",
        "job_archive",
        "job_bring_back",
        "job_call_off",
        "job_edit",
        "job_move",
        "job_promise",
        "making_press",
        "quote_promise",
        "session_edit",
        "session_new",
        "session_off",
        "visit_edit",
        "visit_new",
        "visit_off",
    }
)
SHOWN = 4
MORE = "And {count} more: see the plan of the bench."


class BenchMiddleware:
    """After the page's own transaction, so that what was saved is saved whatever the plan says."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        if _may_have_changed(request, response):
            planned = bench_plan(now=timezone.now())
            if request.user.is_authenticated and helper_of(request) is None:
                tell(request, planned)
        return response


def tell(request: HttpRequest, planned: Planned) -> None:
    for said in planned.moved[:SHOWN]:
        messages.info(request, said)
    if len(planned.moved) > SHOWN:
        messages.info(request, MORE.format(count=len(planned.moved) - SHOWN))
    for said in planned.short[:SHOWN]:
        messages.warning(request, said)


def _may_have_changed(request: HttpRequest, response: HttpResponse) -> bool:
    """A page that saved leads on to another."""
    match = request.resolver_match
    is_saved = request.method == "POST" and response.status_code in (302, 303)
    return is_saved and match is not None and match.view_name in CHANGES_THE_BENCH
