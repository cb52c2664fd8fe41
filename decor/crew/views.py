from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_GET

from decor.crew.service import crew_at_work


@require_GET
def crew_list(request: HttpRequest) -> HttpResponse:
    return render(request, "decor/crew/crew_list.html", {"crew": crew_at_work()})
