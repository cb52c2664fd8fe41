"""Opening pages as the owner does, at noon of the tests' today."""

from datetime import UTC, datetime

from django.test import Client as Browser
from django.urls import reverse

from quoting.models import Edition, Quote
from quoting.quotes.service import quote_send

NOON = datetime(2026, 6, 13, 16, 0, tzinfo=UTC)


def page(browser: Browser, name: str, *args: int) -> str:
    answer = browser.get(reverse(name, args=args))
    assert answer.status_code == 200, answer
    return answer.content.decode()


def sent(quote: Quote) -> Edition:
    return quote_send(quote=quote, by=None, now=NOON)
