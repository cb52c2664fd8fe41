from collections.abc import Iterator

import pytest
import time_machine
from django.test import Client as Browser

from quoting.client_page.links import link_make
from quoting.models import Edition, Quote
from tests.quoting.client_page.phones import Phone
from tests.quoting.promise.conftest import (  # noqa: F401
    another_install,
    edition,
    link,
    quote,
)
from tests.quoting.promise.sending import NOW


@pytest.fixture(autouse=True)
def noon() -> Iterator[None]:
    with time_machine.travel(NOW, tick=False):
        yield


@pytest.fixture
def phone(quote: Quote, edition: Edition) -> Phone:  # noqa: F811
    """A client's browser that has opened the link to the edition."""
    return opened(quote)


def opened(quote: Quote) -> Phone:  # noqa: F811
    made, token = link_make(quote=quote, by=None, now=NOW)
    phone = Phone(Browser(), made)
    phone.browser.get(f"/q/{token}/")
    return phone
