"""The same over the wire: a real server of several processes, on the database under test.

Sixteen browsers promise sixteen quotes at once; then the server is killed in the middle of such
writes, with no time to clean up, and everything still agrees.
"""

import os
import re
import signal
import socket
import sys
import time
from collections import Counter
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from datetime import date, timedelta
from http.client import HTTPConnection, HTTPException
from http.cookiejar import Cookie, CookieJar
from itertools import cycle
from random import Random
from urllib.parse import urlencode, urlsplit
from urllib.request import HTTPCookieProcessor, build_opener

import pytest
from django.conf import settings
from django.core.management import call_command
from django.db import connection
from django.test import Client as LoggedIn
from django.utils import timezone

from decor.models import Job
from decor.models.job import Stage
from inventory.catalogue.starter import add_starter_catalogue
from inventory.holds.service import holds_open, used_for
from inventory.ledger.guards import GUARDS
from inventory.ledger.service import bags_receive
from inventory.models import Bag, Hold, Item
from quoting.covering.demand import quote_demand
from quoting.models import Quote
from quoting.quotes.pricing import quote_priced
from tests.conftest import allow_deletion
from tests.factories import BusinessFactory, JobFactory, PieceFactory, QuoteFactory, UserFactory
from tests.processes import start

pytestmark = pytest.mark.django_db(transaction=True)

CLIENTS, POSSIBLE = 16, 5
KILLS, WRITES_BEFORE_A_KILL = 3, 60
SAID = re.compile(r'class="said[^"]*"[^>]*>([^<]*)')


@contextmanager
def server() -> Iterator[tuple[str, Callable[[], None]]]:
    """Its address, and how to kill it."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    command = ["-m", "gunicorn", "decor.wsgi", "-b", f"127.0.0.1:{port}", "-w", "4", "--preload"]
    command += ["--no-control-socket", "--log-level", "error"]
    process = start(sys.executable, *command)

    def kill() -> None:
        if process.poll() is None:
            os.killpg(process.pid, signal.SIGKILL)
            process.wait(timeout=10)

    try:
        address = f"http://127.0.0.1:{port}"
        for _ in range(300):
            with socket.socket() as probe:
                if probe.connect_ex(("127.0.0.1", port)) == 0:
                    break
            time.sleep(0.1)
        yield address, kill
    finally:
        kill()


class Visitor:
    """One browser: it keeps its cookies and follows where it is led."""

    def __init__(self, address: str, session: str) -> None:
        self.address, self.token = address, "t" * 32
        self.cookies = f"sessionid={session}; csrftoken={self.token}"
        jar = CookieJar()
        for name, value in (("sessionid", session), ("csrftoken", self.token)):
            jar.set_cookie(_cookie(name, value))
        self.opener = build_opener(HTTPCookieProcessor(jar))

    def post(self, path: str, **fields: str) -> str:
        said = self._said(fields)
        with self.opener.open(self.address + path, said, timeout=60) as answer:
            return answer.read().decode()

    def write(self, path: str, **fields: str) -> None:
        """Posts, and does not look at the page that it is led to."""
        connection = HTTPConnection(urlsplit(self.address).netloc, timeout=60)
        form = "application/x-www-form-urlencoded"
        headers = {"Cookie": self.cookies, "Content-Type": form}
        connection.request("POST", path, self._said(fields), headers)
        assert connection.getresponse().status == 302

    def _said(self, fields: dict[str, str]) -> bytes:
        return urlencode({**fields, "csrfmiddlewaretoken": self.token}).encode()


def _cookie(name: str, value: str) -> Cookie:
    return Cookie(
        0, name, value, None, False, "127.0.0.1", False, False, "/", True, False, None, True,
        None, None, {},
    )  # fmt: skip


@pytest.fixture
def session(transactional_db: None) -> str:
    BusinessFactory()
    browser = LoggedIn()
    browser.force_login(UserFactory())
    return browser.cookies[settings.SESSION_COOKIE_NAME].value


@pytest.fixture
def quotes(session: str) -> list[Quote]:
    """Sixteen of the same arch on the same day, and oat of the usual size for five of them."""
    add_starter_catalogue()
    today = timezone.localdate()
    day = today + timedelta(days=7)
    jobs = [JobFactory(title=f"Arch {n}", stage="quoted", event_on=day) for n in range(CLIENTS)]
    quotes = [QuoteFactory(job=job) for job in jobs]
    for quote in quotes:
        PieceFactory(quote=quote)
    demand = quote_demand(quote_priced(quotes[0], today=today))
    oat = Item.objects.get(colour__key="oat", nominal_in=11)
    for item, quantity in demand.quantities.items():
        enough = quantity * (POSSIBLE if item == oat.pk else CLIENTS)
        _receive(item, enough + quantity - 1 if item == oat.pk else enough)
    return quotes


def _receive(item: int, count: int) -> None:
    bag = Bag(item_id=item, received_on=date(2026, 4, 2), cost_cents=1, printed_count=count)
    bags_receive(bags=[bag], by=None, now=timezone.now())


def test_sixteen_browsers_promise_at_once_and_only_as_many_as_can_be(session, quotes):
    with server() as (address, _), ThreadPoolExecutor(CLIENTS) as pool:
        browsers = [Visitor(address, session) for _ in quotes]
        pages = pool.map(lambda b, q: b.post(f"/quotes/{q.pk}/promise/"), browsers, quotes)
        said = Counter(_kind(" ".join(SAID.findall(page))) for page in pages)
    assert said == {"promised": POSSIBLE, "short": CLIENTS - POSSIBLE}
    assert Job.objects.filter(stage=Stage.PROMISED).count() == POSSIBLE
    assert Hold.objects.values("job").distinct().count() == POSSIBLE


def _kind(said: str) -> str:
    if "is promised, and what it takes" in said:
        return "promised"
    return "short" if "Not enough is free" in said else said


def test_killed_in_the_middle_of_writes_the_server_leaves_everything_in_agreement(session, quotes):
    for at in range(KILLS):
        written: list[str] = []
        with server() as (address, kill), ThreadPoolExecutor(CLIENTS) as pool:
            writers = [
                pool.submit(_keep_writing, Visitor(address, session), quote, Random(n), written)
                for n, quote in enumerate(quotes, start=at * CLIENTS)
            ]
            while len(written) < WRITES_BEFORE_A_KILL and not any(w.done() for w in writers):
                time.sleep(0.01)
            kill()
            for writer in writers:
                writer.result()
        assert len(written) >= WRITES_BEFORE_A_KILL
        _check_everything(quotes)


def _keep_writing(visitor: Visitor, quote: Quote, chance: Random, written: list[str]) -> None:
    """Promises, takes for making and takes it all back again, until the server is gone."""
    for move in cycle(["promise", "take", "take", "back"]):
        try:
            match move:
                case "promise":
                    visitor.write(f"/quotes/{quote.pk}/promise/")
                case "take":
                    holds = list(holds_open(quote.job))
                    if holds:
                        visitor.write(f"/shelf/holds/{chance.choice(holds).pk}/take/")
                case "back":
                    reason = "They want to think"
                    visitor.write(f"/jobs/{quote.job_id}/move/", to="quoted", reason=reason)
        except (OSError, HTTPException):
            break
        written.append(move)
    connection.close()


def _check_everything(quotes: list[Quote]) -> None:
    """A promised job holds all that it takes, any other nothing; holds follow the ledger; and
    the shelf is sound."""
    asked = set(quote_demand(quote_priced(quotes[0], today=timezone.localdate())).quantities)
    for quote in quotes:
        job, used = Job.objects.get(pk=quote.job_id), used_for(quote.job)
        held = {hold.item_id: hold for hold in holds_open(job)}
        assert set(held) == (asked if job.stage == Stage.PROMISED else set())
        for item, hold in held.items():
            assert hold.taken == min(hold.quantity, used.get(item, 0))
    GUARDS.install(connection)
    try:
        call_command("check_shelf")
    finally:
        allow_deletion(GUARDS)
