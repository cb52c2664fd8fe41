"""What a client does on their page, with links and forms alone."""

from datetime import timedelta

import pytest
from django.core import mail
from django.test import Client as Browser
from django.urls import reverse
from icalendar import Calendar

from decor.models import Job, Letter, Visit
from decor.models.payment import Means
from decor.payments.service import payment_take
from quoting.calling_off.answer import calling_off
from quoting.calling_off.service import Who, job_call_off
from quoting.client_page.forms import CHOOSE, READ_TERMS, YOUR_NAME
from quoting.client_page.typed import one_line, some_lines
from quoting.models import ClientAnswer, ClientQuestion
from quoting.promise.service import edition_decline
from tests.factories import PieceFactory, QuoteFactory, arch_spec
from tests.quoting.client_page.conftest import opened
from tests.quoting.promise.accepting import accept
from tests.quoting.promise.sending import NOW, TODAY, sent
from tests.quoting.quotes.sending import widen
from tests.quoting.quotes.variants import beside, with_variants


def said(reply) -> str:
    return reply.content.decode()


# ---- Accepting ----


def test_a_client_accepts_in_one_press_and_gets_a_receipt(phone, edition):
    reply = phone.accept()
    assert (reply.status_code, reply.url) == (302, phone.url("client_page"))
    page = said(phone.look())
    assert "Thank you, you accepted this quote" in page
    for words in ("Imogen Vale", "11:00 a.m.", "EDT, America/New_York", edition.pdf_sha256):
        assert words in page
    assert 'id="answer"' not in page
    answer = ClientAnswer.objects.get()
    assert (answer.address, answer.link) == ("127.0.0.1", phone.link)


def test_what_is_promised_can_be_put_into_the_clients_own_calendar(phone):
    """Read back by the `icalendar` package, not by what wrote it."""
    assert phone.browser.get(phone.url("client_page_day")).status_code == 404
    phone.accept()
    page = said(phone.look())
    assert "Saturday 20 June 2026, between" in page
    reply = phone.browser.get(phone.url("client_page_day"))
    event = Calendar.from_ical(reply.content).walk("VEVENT")[0]
    assert event["DTSTART"].dt == Visit.objects.get(kind="install").starts_at
    assert reply["Cache-Control"] == "no-store"


def test_a_second_press_shows_the_same_receipt(phone):
    first = phone.accept()
    again = phone.accept(**{"accept-name": "Somebody Else"})
    assert again.status_code == first.status_code == 302
    assert "Somebody Else" not in said(phone.look())
    letters = Letter.objects.values_list("kind", flat=True)
    assert (ClientAnswer.objects.count(), sorted(letters)) == (1, ["accepted", "notice"])


def test_a_form_that_is_not_filled_says_what_is_missing_and_keeps_the_rest(phone):
    reply = phone.accept(**{"accept-terms": "", "accept-name": " "})
    assert reply.status_code == 422
    assert READ_TERMS in said(reply) and YOUR_NAME in said(reply)
    reply = phone.accept(**{"accept-terms": "", "accept-name": "Imogen Vale"})
    assert 'value="Imogen Vale"' in said(reply)
    assert "is-invalid" in said(reply)
    assert not ClientAnswer.objects.exists()


def test_a_name_is_kept_on_one_line_and_shown_as_text(phone):
    name = "<script>alert(1)</script>\r\nBcc: all@example.org\x00\u202e"
    assert phone.accept(**{"accept-name": name.replace("\x00", "")}).status_code == 302
    kept = ClientAnswer.objects.get().typed_name
    assert kept == "<script>alert(1)</script> Bcc: all@example.org"
    assert "<script" not in said(phone.look())
    assert "&lt;script&gt;" in said(phone.look())
    assert all(
        "\n" not in str(part) for message in mail.outbox for part in message.message().values()
    )


def test_a_name_longer_than_any_is_refused(phone):
    reply = phone.accept(**{"accept-name": "x" * 121})
    assert (reply.status_code, "At most 120 characters" in said(reply)) == (422, True)


def test_a_form_of_another_site_is_refused(quote, edition):
    phone = opened(quote)
    strict = Browser(enforce_csrf_checks=True)
    strict.cookies = phone.browser.cookies
    phone.browser = strict
    assert phone.accept().status_code == 403
    assert not ClientAnswer.objects.exists()


# ---- Choosing ----


def test_each_variant_says_its_price_and_the_one_chosen_is_accepted(quote):
    first, fuller, _ = with_variants(quote)
    edition = sent(quote)
    phone = opened(quote)
    page = said(phone.look())
    for option in edition.result["variants"]:
        assert (
            f"{option['variant']}: {option['title']}. ${option['total_cents'] / 100:,.2f}" in page
        )
    phone.accept(**{f"accept-choice_{first.choice}": fuller.pk})
    answer = ClientAnswer.objects.get()
    assert answer.chosen == {str(first.choice): fuller.pk}
    page = said(phone.look())
    assert "B: Fuller" in page and f"${answer.total_cents / 100:,.2f}" in page


def test_what_is_not_of_this_quote_cannot_be_chosen(quote):
    first, *_ = with_variants(quote)
    foreign = PieceFactory()
    sent(quote)
    phone = opened(quote)
    for wrong in (foreign.pk, "", "A", first.pk + 10_000):
        reply = phone.accept(**{f"accept-choice_{first.choice}": wrong})
        assert (reply.status_code, CHOOSE in said(reply)) == (422, True)
    assert not ClientAnswer.objects.exists()


@pytest.fixture
def two_choices(quote):
    first, fuller, _ = with_variants(quote)
    gate = PieceFactory(quote=quote, title="Gate", spec=arch_spec(width_m=4.0), position=9)
    slim = beside(gate, title="Gate, slim", width=[[0, 0.3], [1, 0.3]])
    gate.refresh_from_db()
    edition = sent(quote)
    others = {first.choice: fuller.pk, gate.choice: slim.pk}
    posted = {f"accept-choice_{number}": pk for number, pk in others.items()}
    wanted = {str(number): pk for number, pk in others.items()}
    total = next(c for c in edition.result["combinations"] if c["chosen"] == wanted)["total_cents"]
    return opened(quote), posted, total


def test_nobody_accepts_a_total_that_they_have_not_seen(two_choices):
    phone, posted, total = two_choices
    seen = said(phone.look()).split('name="seen" value="')[1].split('"')[0]
    reply = phone.accept(**posted, seen=seen)
    assert reply.status_code == 422
    assert f"With what you chose the whole comes to ${total / 100:,.2f}" in said(reply)
    seen = said(reply).split('name="seen" value="')[1].split('"')[0]
    assert phone.accept(**posted, seen=seen).status_code == 302
    assert ClientAnswer.objects.get().total_cents == total


def test_a_client_can_look_what_it_comes_to_before_they_sign(two_choices):
    phone, posted, total = two_choices
    reply = phone.accept(**posted, show="yes", **{"accept-name": "", "accept-terms": ""})
    assert reply.status_code == 200
    assert f"${total / 100:,.2f}" in said(reply)
    assert YOUR_NAME not in said(reply)
    assert not ClientAnswer.objects.exists()


# ---- What cannot be accepted ----


def test_an_older_edition_that_is_posted_is_not_accepted(phone, quote):
    widen(quote, 3.0)
    sent(quote)
    reply = phone.accept(edition=1)
    assert (reply.status_code, "this quote was changed" in said(reply)) == (409, True)
    assert not ClientAnswer.objects.exists()
    assert phone.accept(edition=2).status_code == 302


def test_each_end_has_words_of_its_own(phone, quote, edition, time_machine):
    time_machine.move_to(NOW + timedelta(days=6, hours=14))
    assert "This quote has run out" in said(phone.look())
    reply = phone.accept()
    assert (reply.status_code, "This quote has run out" in said(reply)) == (409, True)
    time_machine.move_to(NOW)

    Job.objects.filter(pk=quote.job_id).update(stage="lost")
    assert "This quote is closed" in said(phone.look())
    Job.objects.filter(pk=quote.job_id).update(stage="quoted")

    other = QuoteFactory(job=quote.job, rate_card=quote.rate_card, number="LL-1050")
    PieceFactory(quote=other)
    accept(sent(other))
    page = said(phone.look())
    assert "You accepted another quote for this" in page and "LL-1050" in page
    assert 'id="answer"' not in page


def test_a_time_that_is_taken_is_told_before_anybody_signs(phone, another_install):
    page = said(phone.look())
    assert "This time has just been taken" in page
    assert 'id="answer"' not in page and 'id="ask"' in page


def test_a_time_that_is_taken_in_the_same_moment_is_never_promised(phone, another_install):
    """The form was open before the other one was promised."""
    assert phone.accept().status_code == 302
    page = said(phone.look())
    assert "nothing is promised to you yet" in page
    assert "Please pay nothing" in page and "What to pay" not in page


def test_what_was_called_off_later_is_said(phone, quote):
    phone.accept()
    Job.objects.filter(pk=quote.job_id).update(stage="called_off")
    assert "This was called off" in said(phone.look())


def test_what_is_left_to_settle_once_it_is_called_off_is_shown_with_its_sums(phone, quote, owner):
    """Seven days before the event the example bands keep three quarters of the total."""
    phone.accept()
    job = Job.objects.get(pk=quote.job_id)
    total = ClientAnswer.objects.get().total_cents
    paid = {"means": Means.CASH, "on": TODAY, "note": "", "by": owner, "now": NOW}
    payment_take(job=job, amount_cents=total, **paid)
    kept = calling_off(job, on=TODAY).kept_cents
    rest = {"keep_cents": None, "by": owner, "now": NOW}
    job_call_off(job=job, who=Who.CLIENT, why="Snow", shown=(kept, total), **rest)
    page = said(phone.look())
    for name, cents in (
        ("Kept, as agreed for calling off", kept),
        ("You paid", total),
        ("You get back", total - kept),
    ):
        assert f"<dt>{name}</dt><dd>${cents / 100:,.2f}</dd>" in page
    assert 0 < kept < total and "What to pay" not in page


# ---- Declining and asking ----


def test_a_client_declines_with_a_reason(phone, quote):
    reply = phone.decline(**{"decline-why": "price", "decline-words": "Sorry!\r\nNext year."})
    assert reply.status_code == 302
    answer = ClientAnswer.objects.get()
    assert answer.reason == "It costs more than we can spend: Sorry!\nNext year."
    assert "You declined this quote" in said(phone.look())
    assert phone.accept().status_code == 409
    quote.job.refresh_from_db()
    assert quote.job.stage == "quoted"


def test_a_decline_without_a_reason_asks_for_one(phone):
    reply = phone.decline(**{"decline-why": "", "decline-words": "We thought again"})
    assert reply.status_code == 422
    assert '<details class="fold mt-4" open>' in said(reply) and "We thought again" in said(reply)


def test_a_question_reaches_the_owner_once(phone, quote):
    text = "Is the <b>ladder</b> yours?\nAnd the stand?"
    assert phone.ask(text).status_code == 302
    phone.ask(text)
    question = ClientQuestion.objects.get()
    assert (question.text, question.quote) == (text, quote)
    assert sorted(Letter.objects.values_list("kind", flat=True)) == ["asked", "notice"]
    page = said(phone.look())
    assert "it has reached us" in page and "<b>ladder" not in page
    assert phone.ask("  ").status_code == 422
    assert phone.ask("x" * 2001).status_code == 422


def test_after_a_decline_one_can_still_ask_and_nothing_else(phone, edition):
    edition_decline(edition=edition, link=None, reason="No", address=None, now=NOW)
    page = said(phone.look())
    assert 'id="ask"' in page and 'id="answer"' not in page


# ---- What strangers type ----


@pytest.mark.parametrize(
    ("typed", "one", "some"),
    [
        ("  Imogen   Vale ", "Imogen Vale", "Imogen   Vale"),
        ("a\r\nb\rc\nd", "a b c d", "a\nb\nc\nd"),
        ("a\x00\x1b[2Jb", "a [2Jb", "a  [2Jb"),
        ("a\u2028b\u2029c", "a b c", "a b c"),
        ("abc\u202etxt.exe", "abctxt.exe", "abctxt.exe"),
        ("Zoë ‍O’Neill 李", "Zoë ‍O’Neill 李", "Zoë ‍O’Neill 李"),
    ],
)
def test_control_signs_and_turned_text_are_taken_out(typed, one, some):
    assert (one_line(typed), some_lines(typed)) == (one, some)


def test_a_get_of_an_answer_leads_back_to_the_page(phone):
    for name in ("client_page_accept", "client_page_decline", "client_page_ask"):
        reply = phone.browser.get(phone.url(name))
        assert (reply.status_code, reply.url) == (302, reverse("client_page", args=[phone.link.pk]))
