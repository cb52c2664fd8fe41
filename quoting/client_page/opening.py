"""Which links a browser has opened: in its session, by number, never by token."""

from django.http import HttpRequest

from quoting.models import ClientLink

OPENED = "client_links"
MOST_OPENED = 20


def opened_put(request: HttpRequest, link: ClientLink) -> None:
    """A link that is new to this browser gets it a new session number, so that nobody who knew
    the one before shares in it."""
    before = _opened(request)
    if link.pk in before:
        return
    request.session.cycle_key()
    request.session[OPENED] = [*before, link.pk][-MOST_OPENED:]


def opened_link(request: HttpRequest, pk: int) -> ClientLink | None:
    if pk not in _opened(request):
        return None
    return ClientLink.objects.select_related("quote__job__client").filter(pk=pk).first()


def _opened(request: HttpRequest) -> list[int]:
    return request.session.get(OPENED, [])
