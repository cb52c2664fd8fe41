"""The script that keeps sheets on the phone, so that they open where there is no network."""

from pathlib import Path

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

SCRIPT = Path(__file__).resolve().parent.parent / "static" / "quoting" / "sheet-worker.js"


@require_GET
def sheet_worker(request: HttpRequest) -> HttpResponse:
    """At the top, as a worker serves only what lies beneath its own address."""
    response = HttpResponse(SCRIPT.read_bytes(), content_type="text/javascript")
    response["Cache-Control"] = "no-cache"
    return response
