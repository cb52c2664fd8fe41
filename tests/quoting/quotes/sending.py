"""Sending a quote at a fixed moment, and meddling with it meanwhile."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from typing import Any

from django.contrib.auth.models import User
from django.db import connection
from django.test.signals import template_rendered

from quoting.documents.quote_document import TEMPLATE
from quoting.models import Edition, Quote
from quoting.quotes.service import quote_send, quote_touched
from tests.factories import arch_spec

NOW = datetime(2026, 6, 13, 15, 0, tzinfo=UTC)


def send(quote: Quote, by: User | None = None, now: datetime = NOW) -> Edition:
    return quote_send(quote=quote, by=by, now=now)


def widen(quote: Quote, width_m: float = 2.7) -> None:
    piece = quote.pieces.first()
    piece.spec = arch_spec(width_m=width_m)
    piece.save()
    quote_touched(quote)


@contextmanager
def while_rendering(act: Callable[[], None]) -> Iterator[list[bool]]:
    """Does something at the moment when the PDF's template is filled; says if in a transaction."""
    seen: list[bool] = []

    def rendered(sender: Any, template: Any, **kwargs: Any) -> None:
        if template.name == TEMPLATE:
            seen.append(connection.in_atomic_block)
            act()

    template_rendered.connect(rendered)
    try:
        yield seen
    finally:
        template_rendered.disconnect(rendered)
