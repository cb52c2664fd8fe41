from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_GET

from decor.today.page import today_page


@require_GET
def today(request: HttpRequest) -> HttpResponse:
    page = today_page(today=timezone.localdate())
    return render(request, "decor/today/today.html", {"page": page})
