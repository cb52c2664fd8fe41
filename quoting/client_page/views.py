"""What a client sees and does: no account, no scripts, nothing that is the owner's alone."""

from django.contrib.auth.decorators import login_not_required
from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from quoting.client_page.links import link_of_token


@login_not_required
@require_safe
def client_page_open(request: HttpRequest, token: str) -> HttpResponse:
    if link_of_token(token) is None:
        raise Http404
    return HttpResponse()
