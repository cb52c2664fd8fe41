"""A list costs the same number of questions to the database however long it is."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from tests.factories import ClientFactory, JobFactory


def queries_of(browser, address: str) -> int:
    with CaptureQueriesContext(
        connection,
    ) as asked:
        assert browser.get(address).status_code == 200
    return len(asked)


def add_jobs(count: int) -> None:
    for number in range(count):
        JobFactory(client=ClientFactory(phone=f"207 555 01{number:02}"), event_on=None)


@pytest.mark.parametrize("address", ["job_list", "client_list"])
def test_a_longer_list_asks_no_more(owner_client, address):
    add_jobs(2)
    few = queries_of(owner_client, reverse(address))
    add_jobs(18)
    assert queries_of(owner_client, reverse(address)) == few
    assert few <= 8
