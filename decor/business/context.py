from typing import Any

from django.http import HttpRequest


def business(request: HttpRequest) -> dict[str, Any]:
    return {"business": getattr(request, "business", None)}
