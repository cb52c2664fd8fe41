"""Headless Chromium against a live server on this machine."""

import os
import shutil
import zoneinfo
from collections.abc import Iterator
from contextlib import contextmanager
from unittest.mock import patch

import pytest
from django.conf import settings
from django.contrib.auth.models import User
from django.core.servers.basehttp import WSGIRequestHandler
from django.test import Client as Visitor
from django.utils import timezone
from playwright.sync_api import Browser, ConsoleMessage, Page, expect, sync_playwright

from quoting.demo.make import demo_make
from quoting.demo.scenario import BUSINESS

# Playwright's loop runs in this thread, which makes Django refuse to touch the database in it.
os.environ.setdefault("DJANGO_ALLOW_ASYNC_UNSAFE", "true")

# The background flags keep Chromium from knocking on a closed network.
CHROMIUM_FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
# Chromium writes every 422 to its console; for us that is a form that came back with errors.
FORM_REFUSED = "status of 422"
# And on a slow machine this: Bootstrap's rules are read before ours, which put our own picture in
# its place. The policy refuses it. That no part of Bootstrap's is used which we have no picture
# for is checked in tests/decor/test_pages_are_self_contained.py.
BOOTSTRAPS_PICTURE = "Loading the image 'data:image/svg+xml"
# htmx says so when a newer change, or leaving the page, takes the place of a request under way.
REQUEST_OVERTAKEN = ("htmx:sendAbort", "htmx:afterRequest")
# And both say so when a test cuts the line with a request under way.
LINE_CUT = ("htmx:sendError", "Failed to load resource: net::ERR_")
# Long enough for a machine that is busy with other tests; no test waits for it to pass.
PATIENCE_MS = 20_000
expect.set_options(timeout=PATIENCE_MS)
PHONE = {"width": 390, "height": 844}
LAPTOP = {"width": 1280, "height": 800}


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=shutil.which("chromium"), args=CHROMIUM_FLAGS
        )
        yield browser
        browser.close()


@pytest.fixture
def demo(transactional_db: None) -> None:
    """The demo business; its logins are `nell` and, for the helper, `tomas`. Its quotes are not
    set in type, which would take most of the time and is looked at in tests/quoting/demo/.
    """
    zone = zoneinfo.ZoneInfo(BUSINESS["timezone"])
    unset = patch("quoting.quotes.editions.render_pdf", return_value=b"%PDF-1.7 of the tests")
    with timezone.override(zone), unset:
        demo_make(password="six-oat-balloons", now=timezone.localtime())


def log_in(page: Page, username: str = "nell") -> Page:
    """At her first page, as if she had just logged in. The form itself is filled in by
    test_main_job.py and test_keep.py.
    """
    visitor = Visitor()
    visitor.force_login(User.objects.get(username=username))
    cookie = {"name": settings.SESSION_COOKIE_NAME, "domain": "localhost", "path": "/"}
    cookie["value"] = visitor.cookies[settings.SESSION_COOKIE_NAME].value
    page.context.add_cookies([cookie])
    page.goto("/")
    return page


@contextmanager
def no_network(page: Page) -> Iterator[None]:
    """The page is told so, and the server hangs up on all who ask: Chromium may forget, while it
    loads a page or works for a service worker, that it is offline.
    """

    def hang_up(handler: WSGIRequestHandler) -> bool:
        handler.close_connection = True
        return False

    with patch.object(WSGIRequestHandler, "parse_request", hang_up):
        page.context.set_offline(True)
        yield
    page.context.set_offline(False)


@pytest.fixture
def page_at(browser: Browser, live_server):
    """Opens a page of the live server at a given size; fails the test on any script error."""
    contexts, errors = [], []

    def open_page(size: dict[str, int]) -> Page:
        context = browser.new_context(
            viewport=size, base_url=live_server.url, accept_downloads=True
        )
        contexts.append(context)
        page = context.new_page()
        page.on("pageerror", lambda error: errors.append(str(error)))
        page.on(
            "console",
            lambda message: errors.append(message.text) if _is_error(message) else None,
        )
        return page

    yield open_page
    for context in contexts:
        context.close()
    assert not errors, errors


def _is_error(message: ConsoleMessage) -> bool:
    text = message.text
    beginnings = (*REQUEST_OVERTAKEN, *LINE_CUT, BOOTSTRAPS_PICTURE)
    expected = FORM_REFUSED in text or text.startswith(beginnings)
    return message.type == "error" and not expected
