"""The owner's side: links made and taken back, what was answered and asked, what to confirm."""

from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from decor.models import Job
from decor.models.visit import VisitKind
from quoting.client_page.links import link_make
from quoting.models import ClientLink, ClientQuestion
from quoting.promise.service import edition_decline, question_ask
from tests.quoting.client_page.conftest import opened
from tests.quoting.promise.accepting import accept, promised
from tests.quoting.promise.sending import NOW, sent
from tests.quoting.quotes.variants import with_variants


def page(browser, name, *args):
    reply = browser.get(reverse(name, args=args))
    assert reply.status_code == 200
    return reply.content.decode()


def test_a_link_is_shown_once_and_kept_nowhere(owner_client, quote, edition):
    reply = owner_client.post(reverse("quote_link_new", args=[quote.pk]))
    said = reply.content.decode()
    token = said.split("/q/")[1].split("/")[0]
    assert (len(token), reply["Cache-Control"]) == (43, "no-store")
    assert ClientLink.objects.get().made_by.username == "nell"
    assert token not in page(owner_client, "quote_detail", quote.pk)
    assert "Not opened yet" in page(owner_client, "quote_detail", quote.pk)


def test_nothing_is_shown_before_it_is_sent(owner_client, quote):
    reply = owner_client.post(reverse("quote_link_new", args=[quote.pk]), follow=True)
    assert "Send this quote first" in reply.content.decode()
    assert not ClientLink.objects.exists()
    assert "Make a link" not in page(owner_client, "quote_detail", quote.pk)


def test_taking_a_link_back_asks_first(owner_client, quote, edition):
    phone = opened(quote)
    phone.look()
    assert "Opened first" in page(owner_client, "quote_detail", quote.pk)
    assert "opened last on" in page(owner_client, "quote_link_revoke", phone.link.pk)
    assert phone.look().status_code == 200
    owner_client.post(reverse("quote_link_revoke", args=[phone.link.pk]))
    assert phone.look().status_code == 410
    assert "1 link taken back" in page(owner_client, "quote_detail", quote.pk)


def test_an_acceptance_stands_on_the_quote_and_on_the_job(owner_client, quote, edition, link):
    accept(edition, link=link)
    for said in (
        page(owner_client, "quote_detail", quote.pk),
        page(owner_client, "job_detail", quote.job_id),
    ):
        assert "Imogen Vale accepted edition 1" in said and "192.0.2.7" in said
        assert "Accepted, edition 1" in said
        assert "nothing is held yet" not in said


def test_the_job_lists_a_quote_with_what_the_client_chose(owner_client, quote):
    first, fuller, _ = with_variants(quote)
    answer = accept(sent(quote), chosen={first.choice: fuller.pk})
    said = page(owner_client, "job_detail", quote.job_id)
    listed = said[said.index('id="quotes"') :].partition("</ul>")[0]
    assert answer.total_cents != answer.edition.total_cents
    assert f"{answer.total_cents / 100:,.2f}" in listed


def test_a_decline_stands_there_with_its_reason(owner_client, quote, edition):
    edition_decline(edition=edition, link=None, reason="<b>No</b>", address=None, now=NOW)
    said = page(owner_client, "job_detail", quote.job_id)
    assert "Declined: edition 1" in said and "&lt;b&gt;No&lt;/b&gt;" in said
    assert "?to=lost#by-hand" in said
    assert "Promise it" not in said and "Open quote LL-1042" in said
    assert "Send edition 2" in page(owner_client, "quote_detail", quote.pk)


def test_a_question_is_marked_as_answered_and_can_be_opened_again(owner_client, quote):
    question_ask(quote=quote, text="Is it <i>safe</i>?", typed_name="", now=NOW)
    question = ClientQuestion.objects.get()
    said = page(owner_client, "job_detail", quote.job_id)
    assert 'id="questions"' in said and "&lt;i&gt;safe" in said
    subject = "Your%20question%20about%20quote%20LL-1042"
    assert f'href="mailto:{quote.job.client.email}?subject={subject}"' in said
    address = reverse("question_answered", args=[question.pk])
    assert owner_client.post(address).url == f"/jobs/{quote.job_id}/#questions"
    question.refresh_from_db()
    assert question.answered_at == NOW
    assert "Not answered yet" in page(owner_client, "quote_detail", quote.pk)
    owner_client.post(address, {"open": "yes"})
    question.refresh_from_db()
    assert question.answered_at is None


def test_the_owner_overrules_a_clash_with_a_reason(owner_client, quote, edition, another_install):
    accept(edition)
    said = page(owner_client, "quote_covering", quote.pk)
    assert "accepted edition 1" in said and "nothing is promised for it yet" in said
    address = reverse("quote_promise", args=[quote.pk])
    clash = owner_client.post(address)
    assert clash.status_code == 422
    assert "Its hours are not free" in clash.content.decode()
    assert "Say why" not in clash.content.decode()
    empty = owner_client.post(address, {"overruling": "yes", "overruled": " "})
    assert (empty.status_code, "Say why" in empty.content.decode()) == (422, True)
    done = owner_client.post(address, {"overruling": "yes", "overruled": "Tomas goes"})
    assert done.url == reverse("job_detail", args=[quote.job_id])
    install = quote.job.visits.get(kind=VisitKind.INSTALL)
    assert install.overruled_reason == "Tomas goes"
    assert Job.objects.get(pk=quote.job_id).stage == "promised"


def test_a_yes_on_the_phone_is_promised_from_the_same_page(owner_client, quote, edition):
    reply = owner_client.post(reverse("quote_promise", args=[quote.pk]), follow=True)
    assert "Accepted by word: edition 1" in reply.content.decode()
    assert promised(quote.job)["visits"] == 2


def test_many_links_and_questions_cost_no_more_to_show_than_one(owner_client, quote, edition):
    def queries() -> int:
        with CaptureQueriesContext(connection) as captured:
            page(owner_client, "quote_detail", quote.pk)
        return len(captured)

    def one_more(number: int) -> None:
        link_make(quote=quote, by=None, now=NOW)
        question_ask(quote=quote, text=f"Question {number}?", typed_name="", now=NOW)

    one_more(0)
    queries()
    before = queries()
    for number in range(1, 6):
        one_more(number)
    assert queries() == before
