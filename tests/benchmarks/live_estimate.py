"""How long the server takes to answer one change of a piece: read, estimated, kept, drawn.

Through the Django test client, on a SQLite file of its own with the app's own settings.
"""

import os
from collections.abc import Callable, Iterator
from itertools import cycle

from .database import own_database
from .timing import milliseconds

_RUNS = 40
_ALLOWED_MS = 200
_WIDTHS = ("8 ft", "8 ft 6 in", "9 ft", "9 ft 6 in", "4 km")


def figures() -> Iterator[str]:
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "tests.settings")
    import django

    django.setup()
    with own_database():
        best, middle = milliseconds(_change(), runs=_RUNS)
    yield f"one change of a piece: {middle:.0f} ms (best {best:.0f}); goal under {_ALLOWED_MS}"


def _change() -> Callable[[], None]:
    """Every call posts another width; one in five is wrong, as when one types."""
    from django.test import Client as Browser
    from django.urls import reverse

    from inventory.catalogue.starter import add_starter_catalogue
    from quoting.pieces.service import piece_add
    from tests.factories import BusinessFactory, QuoteFactory, UserFactory

    BusinessFactory()
    add_starter_catalogue()
    piece = piece_add(quote=QuoteFactory(), shape="walk_arch")
    browser = Browser(headers={"HX-Request": "true", "Host": "localhost"})
    browser.force_login(UserFactory())
    address = reverse("piece_estimate", args=[piece.pk])
    widths = cycle(_WIDTHS)
    typed = {"shape": "walk_arch", "base": ["oat", "fern", "marigold"], "window": "w"}

    def change() -> None:
        answer = browser.post(address, {**typed, "arch_width": next(widths)})
        assert answer.status_code in {200, 422}, answer.status_code

    return change
