from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_GET

from decor.crew.work import work_ahead


@require_GET
def work_today(request: HttpRequest) -> HttpResponse:
    """A helper's first page. The owner may see what they see."""
    today = timezone.localdate()
    context = {"days": work_ahead(today=today), "today": today}
    return render(request, "decor/crew/work_today.html", context)
