import zoneinfo
from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils import timezone

from decor.business.service import the_business


class BusinessMiddleware:
    """Gives each request the business and its time zone; asks for the business before all else."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        request.business = the_business()
        if request.business is None:
            return self._before_first_run(request)
        with timezone.override(zoneinfo.ZoneInfo(request.business.timezone)):
            return self.get_response(request)

    def _before_first_run(self, request: HttpRequest) -> HttpResponse:
        open_paths = {reverse(name) for name in ("first_run", "login", "logout")}
        if request.user.is_authenticated and request.path not in open_paths:
            return redirect("first_run")
        return self.get_response(request)
