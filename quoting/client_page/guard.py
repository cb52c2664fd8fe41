"""What stands before every page of a client: how often one may come, and what goes with it."""

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.contrib.auth.decorators import login_not_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone

from decor.throttle.addresses import address_of, network_of
from decor.throttle.service import is_past, too_often

WINDOW_SECONDS = 600
MOST_PAGES = 300
MOST_PRESSES = 40
# Nobody guesses one of 2^256; who tries is slowed down all the same.
MOST_MISSES = 10
CLIENT_PATHS = ("/q/", "/your-quote/")

View = Callable[..., HttpResponse]


def client_view(view: View) -> View:
    """Needs no login. Counts who comes."""

    @login_not_required
    @wraps(view)
    def guarded(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        if _comes_too_often(request):
            return slowed(request)
        try:
            return view(request, *args, **kwargs)
        except Http404:  # else they would get the page that leads the owner to their login
            return render(request, "quoting/client_page/not_found.html", status=404)

    return guarded


def slowed(request: HttpRequest) -> HttpResponse:
    response = render(request, "quoting/client_page/too_often.html", status=429)
    response["Retry-After"] = str(WINDOW_SECONDS)
    return response


class ClientPageMiddleware:
    """Whatever is answered at a client's address is kept by no cache and found by no search: also
    what no view of ours answers, such as an error, or the way on to an address with its slash."""

    def __init__(self, get_response: View) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        if request.path_info.startswith(CLIENT_PATHS):
            response["Cache-Control"] = "no-store"
            response["Referrer-Policy"] = "same-origin"
            response["X-Robots-Tag"] = "noindex, nofollow, noarchive"
        return response


def has_guessed_too_often(request: HttpRequest) -> bool:
    return is_past(
        key=_key("miss", request), most=MOST_MISSES, seconds=WINDOW_SECONDS, now=timezone.now()
    )


def missed(request: HttpRequest) -> None:
    too_often(
        key=_key("miss", request), most=MOST_MISSES, seconds=WINDOW_SECONDS, now=timezone.now()
    )


def _comes_too_often(request: HttpRequest) -> bool:
    presses = request.method == "POST"
    return too_often(
        key=_key("press" if presses else "page", request),
        most=MOST_PRESSES if presses else MOST_PAGES,
        seconds=WINDOW_SECONDS,
        now=timezone.now(),
    )


def _key(what: str, request: HttpRequest) -> str:
    return f"client {what} {network_of(address_of(request))}"
