"""Every kind of page of the demo business, as axe sees it: on a phone in light, many on a laptop in
dark."""

import re
from collections import Counter
from collections.abc import Iterable, Iterator

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.contrib.auth.models import User
from django.test import Client as Reader
from django.urls import Resolver404, resolve, reverse
from django.utils import timezone
from playwright.sync_api import Page

from quoting.client_page.links import link_make
from quoting.models import Edition, Quote
from quoting.promise.service import edition_accept, edition_decline
from quoting.quotes.combinations import counted_choice
from tests.browser.conftest import LAPTOP, PHONE, log_in

# Of each kind, for links to other kinds: one job leads to pages that another has not.
LOOKED_THROUGH = 2
LINK = re.compile(r'<a\b[^>]*\bhref="(/[^"#]*)')
# Target size (WCAG 2.2, 2.5.8) and headings are checked only where their tags are asked for.
TAGS = ("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice")
OPTIONS = {"runOnly": {"type": "tag", "values": TAGS}, "resultTypes": ["violations"]}
# What must be among the pages found, or the walk has lost its way.
MUST_BE_FOUND = {
    "job_list", "job_detail", "job_edit", "client_list", "client_detail", "client_edit",
    "enquiry_new", "quote_detail", "quote_edit", "quote_edition", "quote_send", "piece_edit",
    "piece_new", "trace_photo", "palette_choose", "quote_covering", "rate_card_list",
    "rate_card_change", "catalogue", "colour_edit", "business_edit", "shelf", "bag_detail",
    "buy_list", "order_list", "order_detail", "order_receive", "delivery_new", "delivery_csv",
    "shelf_kit", "shelf_job", "shelf_free", "loss_list", "home", "calendar_month", "calendar_week",
    "calendar_agenda", "calendar_feeds", "visit_page", "visit_edit", "visit_new", "letter_choose",
    "letter_new", "letter_list", "letter_text_list", "letter_text", "money_list", "payment_new",
    "refund_new", "payment_correct", "job_call_off", "report_list", "report", "crew_list",
    "crew_edit",
}  # fmt: skip
WIDER_THAN_IT_SHOWS = "document.documentElement.scrollWidth > document.documentElement.clientWidth"


def one_page_of_each_kind() -> dict[str, str]:
    """By the name of its address, following every link from the first page on."""
    reader = Reader()
    reader.force_login(User.objects.get(username="nell"))
    draft = Quote.objects.filter(editions=None).exclude(pieces=None).first()
    found, waiting = (
        {},
        [
            reverse("job_list"),
            reverse("quote_detail", args=[draft.pk]),  # a sent quote has no page to send it from
            reverse("palette_choose", args=[draft.pieces.first().pk]),  # its button saves first
        ],
    )
    asked, looked_through = set(waiting), Counter()
    while waiting:
        address = waiting.pop(0)
        if looked_through[_kind(address)] == LOOKED_THROUGH:
            continue
        looked_through[_kind(address)] += 1
        reply = reader.get(address)
        if reply.status_code != 200 or "text/html" not in reply["Content-Type"]:
            continue
        found.setdefault(_kind(address), address)
        for link in LINK.findall(reply.content.decode()):
            address = link.replace("&amp;", "&")
            if address not in asked:
                waiting.append(address)
                asked.add(address)
    return found


def _kind(address: str) -> str:
    try:
        return resolve(address.split("?")[0]).url_name
    except Resolver404:
        pytest.fail(f"a link leads nowhere: {address}")


def faults(page: Page, addresses: Iterable[str]) -> Iterator[str]:
    """On a phone in light; every third on a laptop in dark too, whose colours are measured pair by
    pair in tests/decor/test_theme_contrast.py."""
    for at, address in enumerate(addresses):
        looks = ((PHONE, "light"), (LAPTOP, "dark")) if at % 3 == 0 else ((PHONE, "light"),)
        page.goto(address)
        yield from _faults_of(page, address, looks)


def _faults_of(page: Page, address: str, looks: Iterable[tuple[dict, str]]) -> Iterator[str]:
    for size, scheme in looks:
        page.set_viewport_size(size)
        # Without motion: axe would read a colour on its way from light to dark.
        page.emulate_media(color_scheme=scheme, reduced_motion="reduce")
        if page.evaluate(WIDER_THAN_IT_SHOWS):
            yield f"{size['width']} px {address}: scrolls sideways"
        found = Axe().run(page, options=OPTIONS)
        for fault in found.response["violations"]:
            yield f"{scheme} {address}: {fault['id']}: {fault['nodes'][0]['html'][:200]}"


def client_addresses() -> Iterator[str]:
    """Of a quote that waits for its answer, of one declined, and of two that want the same hour:
    the first is accepted."""
    now = timezone.now()
    accepted, declined = _edition("Lantern walk"), _edition("Ferry's hundredth year")
    said = {"address": None, "now": now}
    for edition in (_edition("Tea room window"), declined, accepted, _edition("Gallery opening")):
        link, token = link_make(quote=edition.quote, by=None, now=now)
        if edition == declined:
            edition_decline(edition=edition, link=link, reason="Too dear.", **said)
        if edition == accepted:
            chosen = counted_choice(edition.result)
            edition_accept(edition=edition, link=link, typed_name="B. Marsh", chosen=chosen, **said)
        yield reverse("client_page_open", args=[token])


def _edition(title: str) -> Edition:
    return Edition.objects.get(quote__job__title=title)


def test_no_page_has_a_fault_that_axe_can_find(page_at, demo):
    pages = one_page_of_each_kind()
    assert pages.keys() >= MUST_BE_FOUND
    reports = [reverse("report", args=[key]) for key in ("quoted", "held", "margin")]
    page = log_in(page_at(PHONE))
    found = list(faults(page, (*pages.values(), *reports)))
    assert not found, "\n".join(found)

    # The client's own page, on a phone that is nobody's: to answer, declined, accepted, taken.
    client = page_at(PHONE)
    found = list(faults(client, client_addresses()))
    assert not found, "\n".join(found)
