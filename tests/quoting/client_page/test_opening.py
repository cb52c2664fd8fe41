"""The private address: what it opens, what it says to caches and searches, and who is let in."""

from datetime import timedelta

from django.contrib.sessions.models import Session
from django.db.models import QuerySet
from django.http import HttpResponse
from django.test import Client as Browser
from django.urls import reverse

from decor.jobs.photos import photos_add, photos_read
from decor.throttle.service import too_often
from quoting.client_page.guard import MOST_MISSES, MOST_PAGES, WINDOW_SECONDS
from quoting.client_page.links import link_make, link_revoke
from quoting.models import ClientAnswer, ClientLink, Edition
from tests.decor.pictures import image_file
from tests.factories import JobFactory, PieceFactory, QuoteFactory
from tests.quoting.client_page.conftest import opened
from tests.quoting.promise.sending import NOW, sent


def test_the_first_visit_leads_to_an_address_without_the_token(quote, edition):
    link, token = link_make(quote=quote, by=None, now=NOW)
    browser = Browser()
    reply = browser.get(f"/q/{token}/")
    assert (reply.status_code, reply.url) == (302, f"/your-quote/{link.pk}/")
    page = browser.get(reply.url)
    assert page.status_code == 200
    assert token not in page.content.decode()
    link.refresh_from_db()
    assert link.first_opened_at == NOW
    assert token not in str([session.get_decoded() for session in Session.objects.all()])


def test_every_answer_is_kept_by_no_cache_and_found_by_no_search(phone, edition):
    strict = Browser(enforce_csrf_checks=True)
    for reply in (
        phone.browser.get("/q/wrong"),  # the slash is added before any view of ours is asked
        phone.browser.get(phone.url("client_page_pdf")),
        phone.browser.get(phone.url("client_page_logo")),
        phone.browser.get("/q/wrong/further/"),
        phone.accept(),
        strict.post(phone.url("client_page_accept")),
    ):
        assert reply["Cache-Control"] == "no-store"
        assert reply["Referrer-Policy"] == "same-origin"
        assert "noindex" in reply["X-Robots-Tag"]
        assert "default-src 'self'" in reply["Content-Security-Policy"]


def test_every_page_is_kept_by_no_cache_and_found_by_no_search(phone):
    for reply in (
        phone.look(),
        phone.browser.get("/q/wrong/"),
        phone.browser.get("/your-quote/9/"),
        phone.browser.get(phone.url("client_page_day")),
    ):
        assert reply["Cache-Control"] == "no-store"
        assert reply["Referrer-Policy"] == "same-origin"
        assert "noindex" in reply["X-Robots-Tag"]
        policy = reply["Content-Security-Policy"]
        assert "default-src 'self'" in policy and "unsafe" not in policy
        assert '<meta name="robots" content="noindex' in reply.content.decode()


def test_the_page_shows_all_of_the_quote_and_nothing_of_the_house(phone, edition):
    page = phone.look().content.decode()
    assert "<script" not in page and " style=" not in page and "onclick" not in page
    assert "Garland over the door" in page and "<svg" in page
    for said in ("7 ft 10 in", "Oat", "Children under 8 yrs.", "Garlands last one day."):
        assert said in page
    assert f"${edition.total_cents / 100:,.2f}" in page
    cost = edition.result["price"]["cost_cents"]
    assert f"${cost / 100:,.2f}" not in page and "margin" not in page.lower()


def test_a_wrong_address_is_not_found_and_guessing_is_slowed_down(quote, edition):
    _link, token = link_make(quote=quote, by=None, now=NOW)
    browser = Browser()
    for _ in range(MOST_MISSES):
        assert browser.get(f"/q/{token[:-1]}/").status_code == 404
    assert browser.get("/q/guess/").status_code == 429
    slowed = browser.get(f"/q/{token}/")
    assert (slowed.status_code, slowed["Cache-Control"]) == (429, "no-store")
    assert slowed["Retry-After"] == str(WINDOW_SECONDS)
    elsewhere = Browser(REMOTE_ADDR="198.51.100.4")
    assert elsewhere.get(f"/q/{token}/").status_code == 302


def test_who_comes_far_too_often_is_asked_to_wait(phone):
    for _ in range(MOST_PAGES):
        too_often(key="client page 127.0.0.1", most=MOST_PAGES, seconds=WINDOW_SECONDS, now=NOW)
    reply = phone.look()
    assert (reply.status_code, reply["Retry-After"]) == (429, str(WINDOW_SECONDS))


def test_a_preview_robot_opens_and_accepts_nothing(quote, edition):
    """Message apps look at a link before anybody reads it: by HEAD, or by GET without cookies."""
    link, token = link_make(quote=quote, by=None, now=NOW)
    robot = Browser()
    assert robot.head(f"/q/{token}/").status_code == 302
    assert not robot.session.get("client_links")
    assert Browser().get(f"/your-quote/{link.pk}/").status_code == 403
    for name in ("client_page", "client_page_accept", "client_page_decline", "client_page_ask"):
        assert robot.head(reverse(name, args=[link.pk])).status_code == 403
    link.refresh_from_db()
    assert link.first_opened_at is None
    assert not ClientAnswer.objects.exists()


def test_without_the_link_no_number_opens_a_page(phone, quote):
    other, _ = link_make(quote=QuoteFactory(job=quote.job), by=None, now=NOW)
    reply = phone.browser.get(f"/your-quote/{other.pk}/")
    unknown = phone.browser.get("/your-quote/999999/")
    assert (reply.status_code, unknown.status_code) == (403, 403)
    assert reply.content == unknown.content, "nobody learns which numbers there are"
    for name in ("client_page_pdf", "client_page_accept", "client_page_decline"):
        assert phone.browser.get(reverse(name, args=[other.pk])).status_code == 403


def test_two_links_in_one_browser_do_not_answer_for_each_other(phone, quote):
    job = JobFactory(stage="quoted", title="Regatta arch", event_on="2026-07-11")
    other = QuoteFactory(job=job, rate_card=quote.rate_card)
    PieceFactory(quote=other)
    other_edition = sent(other)
    _link, token = link_make(quote=other, by=None, now=NOW)
    phone.browser.get(f"/q/{token}/")
    assert "Regatta arch" not in phone.look().content.decode()
    phone.accept()
    assert not other_edition.answers.exists()
    assert ClientAnswer.objects.get().link == phone.link


def test_opening_a_link_gives_the_browser_a_new_session(phone, quote, edition):
    before = phone.browser.session.session_key
    _link, token = link_make(quote=quote, by=None, now=NOW)
    phone.browser.get(f"/q/{token}/")
    assert phone.browser.session.session_key != before
    assert not Session.objects.filter(session_key=before).exists()
    assert phone.look().status_code == 200, "the first link is open as before"


def test_a_revoked_link_says_so_and_opens_nothing(phone):
    link_revoke(link=phone.link, now=NOW)
    for name in ("client_page", "client_page_pdf"):
        reply = phone.browser.get(phone.url(name))
        assert reply.status_code == 410
        assert "not in use any more" in reply.content.decode()
        assert "Garland over the door" not in reply.content.decode()
    assert phone.accept().status_code == 410
    assert phone.browser.get(phone.url("client_page_logo")).status_code == 404


def test_a_link_ends_some_days_after_the_event(phone, business, time_machine):
    business.client_page_days = 3
    business.save()
    event = NOW + timedelta(days=7)
    time_machine.move_to(event + timedelta(days=3))
    assert phone.look().status_code == 200
    time_machine.move_to(event + timedelta(days=4))
    reply = phone.look()
    assert (reply.status_code, "days after the event" in reply.content.decode()) == (410, True)


def test_the_pdf_is_the_very_one(phone, edition):
    reply = phone.browser.get(phone.url("client_page_pdf"))
    assert reply.content == bytes(edition.pdf)
    assert reply["Content-Disposition"] == 'attachment; filename="LL-1042-edition-1.pdf"'
    assert reply["Cache-Control"] == "no-store"


def test_of_the_jobs_photos_only_the_one_it_was_drawn_on_is_shown(phone, quote, edition):
    drawn_on, other = photos_add(
        job=quote.job, pictures=photos_read([image_file(), image_file(colour="tan")]).pictures
    )
    inputs = edition.inputs | {"photos": {drawn_on.image.name: "0" * 64}}
    QuerySet(Edition).filter(pk=edition.pk).update(inputs=inputs)

    def photo(browser: Browser, number: int) -> HttpResponse:
        return browser.get(reverse("client_page_photo", args=[phone.link.pk, number]))

    shown = photo(phone.browser, 0)
    assert (shown.status_code, shown["Content-Type"]) == (200, "image/jpeg")
    assert b"".join(shown.streaming_content) == drawn_on.image.open().read()
    assert "sandbox" in shown["Content-Security-Policy"]
    assert photo(phone.browser, 1).status_code == photo(Browser(), 0).status_code == 404
    assert Browser().get(reverse("photo", args=[other.pk])).status_code == 302


def test_the_owner_sees_what_the_client_sees_and_cannot_answer_for_them(quote, edition, owner):
    link, token = link_make(quote=quote, by=owner, now=NOW)
    browser = Browser()
    browser.force_login(owner)
    page = browser.get(f"/q/{token}/", follow=True).content.decode()
    assert "This is what your client sees" in page
    assert 'class="places"' not in page and "Log out" not in page
    assert browser.get(f"/your-quote/{link.pk}/").status_code == 200
    link.refresh_from_db()
    assert link.first_opened_at is None
    said = {"edition": 1, "accept-terms": "on", "accept-name": "Nell"}
    assert browser.post(f"/your-quote/{link.pk}/accept/", said).status_code == 403
    assert not ClientAnswer.objects.exists()


def test_before_anything_was_sent_the_page_says_so(quote):
    phone = opened(quote)
    reply = phone.look()
    assert (reply.status_code, "not ready yet" in reply.content.decode()) == (404, True)


def test_without_a_business_there_is_nothing_here(db):
    assert Browser().get("/q/anything/").status_code == 404
    assert not ClientLink.objects.exists()
