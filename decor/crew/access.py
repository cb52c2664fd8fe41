"""What a helper's login may open. All else is refused, and so is each new page by default.

A user without a row in the crew is the owner, as is whoever `createsuperuser` made at the first
run: so a helper's row is archived and never deleted.
"""

from collections.abc import Callable, Mapping
from typing import Any

from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from decor.models import CrewMember, Job, JobPhoto
from decor.models.crew import Role
from decor.models.job import Stage

HELPERS_HOME = "work_today"
OWN_PASSWORD = "own_password"
LEAVING = frozenset({"login", "logout"})
# Names of pages. None of them may show a price, a client's money or a setting: see
# tests/decor/crew/test_no_money_for_helpers.py.
HELPER_MAY = LEAVING | {
    "home",
    HELPERS_HOME,
    OWN_PASSWORD,
    "photo",
    "photo_small",
    "sheet_worker",
    "making_sheet",
    "making_told",
    "making_press",
    "making_hours",
    "making_pdf",
    "making_labels",
    "bench",
    "making_day",
    "making_day_press",
    "calendar_month",
    "calendar_week",
    "calendar_agenda",
    "calendar_feeds",
    "calendar_feed_revoke",
    "visit_ics",
    "visit_page",
    "visit_pdf",
    "visit_check",
    "visit_told",
    "visit_clock",
    "visit_forecast",
    "visit_sign",
    "visit_finish",
    "visit_take",
    "visit_give_back",
}
# Jobs that there are sheets of.
ON_SHEETS = (Stage.PROMISED, Stage.MADE, Stage.UP)


class HelperMiddleware:
    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.get_response(request)

    def process_view(
        self, request: HttpRequest, view: Callable, args: list, kwargs: Mapping[str, Any]
    ) -> HttpResponse | None:
        helper = helper_of(request)
        name = request.resolver_match.view_name
        if helper is None or name in LEAVING:
            return None
        if helper.archived_at or name not in HELPER_MAY:
            return render(request, "403.html", status=403)
        if helper.password_is_given and name != OWN_PASSWORD:
            return redirect(OWN_PASSWORD)
        return redirect(HELPERS_HOME) if name == "home" else None


def helper_of(request: HttpRequest) -> CrewMember | None:
    """Whose login a request comes with, where it is a helper's. Asks once a request, and not of
    what was kept at the login: a role that was changed counts at once."""
    if not hasattr(request, "crew_helper"):
        user = request.user
        row = CrewMember.objects.filter(user_id=user.pk, role=Role.HELPER)
        request.crew_helper = row.first() if user.is_authenticated else None
    return request.crew_helper


def jobs_shown(request: HttpRequest) -> QuerySet[Job]:
    """For a helper those that there is work on, and not what was only asked for."""
    if helper_of(request) is None:
        return Job.objects.all()
    return Job.objects.filter(stage__in=ON_SHEETS, archived_at=None)


def photos_shown(request: HttpRequest) -> QuerySet[JobPhoto]:
    if helper_of(request) is None:
        return JobPhoto.objects.all()
    return JobPhoto.objects.filter(job__in=jobs_shown(request))
