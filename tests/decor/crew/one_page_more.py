"""The project's addresses and a page that nobody has said anything about."""

from django.http import HttpRequest, HttpResponse
from django.urls import include, path


def new_page(request: HttpRequest) -> HttpResponse:
    return HttpResponse("Something new")


urlpatterns = [
    path("something-new/", new_page, name="something_new"),
    path("", include("decor.urls")),
]
