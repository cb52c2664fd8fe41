"""How much a page asks of the database."""

from django.db import connection
from django.test import Client as Browser
from django.test.utils import CaptureQueriesContext


def queries_of(browser: Browser, address: str) -> int:
    with CaptureQueriesContext(connection) as asked:
        assert browser.get(address).status_code == 200
    return len(asked)
