"""The pages of letters, as the owner uses them."""

import re
import smtplib
from typing import Any

import pytest
from django.core import mail
from django.http import HttpResponse
from django.test import Client as Browser
from django.urls import reverse

from decor.letters.service import outbox_send
from decor.letters.texts import OURS
from decor.models import Letter, LetterText
from decor.models.letter import LetterKind, LetterState
from tests.decor.letters.conftest import NOW, letter_in_outbox
from tests.factories import ClientFactory, JobFactory


def text_of(reply: HttpResponse) -> str:
    return reply.content.decode()


def letter_form(job: Any, **changes: str) -> dict[str, str]:
    return {
        "to": job.client.email,
        "subject": "Thank you",
        "body": "Hello {client},\n\nthank you.",
        "press": "0b0f4c3e-7d9c-4d0a-9d0f-000000000001",
        **changes,
    }


def new(job: Any, kind: str = "thank_you") -> str:
    return reverse("letter_new", args=[job.pk, kind])


def test_a_letter_is_chosen_looked_over_sent_once_and_found_on_its_job(
    owner_client, job, django_capture_on_commit_callbacks
):
    chosen = text_of(owner_client.get(reverse("letter_choose", args=[job.pk])))
    assert new(job) in chosen
    assert new(job, "accepted") not in chosen
    page = text_of(owner_client.get(new(job)))
    assert "Thank you for letting me make Reading-week arch." in page
    assert 'value="reading@wexcombebay.example"' in page
    for _ in range(2):
        with django_capture_on_commit_callbacks(execute=True):
            reply = owner_client.post(new(job), letter_form(job))
    letter = Letter.objects.get()
    assert reply.url == reverse("letter_detail", args=[letter.pk])
    assert (letter.state, letter.kind) == (LetterState.SENT, LetterKind.THANK_YOU)
    assert letter.written_by.username == "nell"
    assert [message.body for message in mail.outbox] == [
        "Hello Wexcombe Bay Library,\n\nthank you."
    ]
    assert "thank you." in text_of(owner_client.get(reply.url))
    assert reverse("letter_detail", args=[letter.pk]) in text_of(
        owner_client.get(reverse("job_detail", args=[job.pk]))
    )


def test_looking_again_sends_nothing_and_keeps_what_was_typed(owner_client, job):
    typed = letter_form(job, body="For {job} <b>&</b>", preview="yes")
    page = text_of(owner_client.post(new(job), typed))
    assert "For Reading-week arch &lt;b&gt;&amp;&lt;/b&gt;" in page
    assert "For {job} &lt;b&gt;" in page
    assert not Letter.objects.exists()


@pytest.mark.parametrize(
    ("field", "value", "said"),
    [
        ("to", "nobody", "Enter a valid email address"),
        ("to", "", "This field is required"),
        ("to", "other@elsewhere.example", "This is not the address you have for Wexcombe"),
        ("subject", "For {cleint}", "{cleint} is not a field"),
        ("subject", "See {client_page}", "{client_page} is a secret"),
        ("body", "See {client_page}", "no quote is made ready"),
        ("body", "Hello {client", "A brace stands alone"),
    ],
)
def test_an_error_stands_beside_its_field_and_nothing_goes(owner_client, job, field, value, said):
    reply = owner_client.post(new(job), letter_form(job, **{field: value}))
    assert reply.status_code == 422
    assert said in " ".join(reply.context["form"].errors[field])
    assert not Letter.objects.exists()


def test_another_address_is_used_when_the_owner_says_so(owner_client, job):
    typed = letter_form(job, to="other@elsewhere.example", elsewhere="on")
    owner_client.post(new(job), typed)
    assert Letter.objects.get().to == "other@elsewhere.example"


def test_a_header_typed_into_the_subject_is_only_words(owner_client, job):
    owner_client.post(new(job), letter_form(job, subject="Hi\r\nBcc: all@elsewhere.example"))
    outbox_send(now=Letter.objects.get().written_at)
    assert mail.outbox[0].subject == "Hi Bcc: all@elsewhere.example"
    assert mail.outbox[0].message()["Bcc"] is None


def test_text_to_copy_needs_no_address_and_sends_nothing(owner_client, business):
    job = JobFactory(client=ClientFactory(email=""))
    page = text_of(owner_client.get(new(job)))
    assert "You have no e-mail address of Wexcombe Bay Library" in page
    reply = owner_client.post(
        reverse("letter_copy", args=[job.pk, "thank_you"]), letter_form(job, to="", subject="")
    )
    assert "readonly" in text_of(reply)
    assert "Hello Wexcombe Bay Library,\n\nthank you.</textarea>" in text_of(reply)
    assert "no-store" in reply["Cache-Control"]
    assert not Letter.objects.exists()


@pytest.mark.parametrize("kind", ["accepted", "nothing"])
def test_no_other_letter_can_be_written_by_hand(owner_client, job, kind):
    assert owner_client.get(new(job, kind)).status_code == 404


def test_the_outbox_says_why_a_letter_did_not_go_and_tries_it_again(
    owner_client: Browser, job, mail_server
):
    letter = letter_in_outbox(job)
    mail_server.error = smtplib.SMTPRecipientsRefused({job.client.email: (550, b"unknown")})
    outbox_send(now=NOW)
    page = text_of(owner_client.get(reverse("letter_list")))
    assert "Not sent" in page
    assert "The mail server says that reading@wexcombebay.example cannot get mail." in page
    again = reverse("letter_try_again", args=[letter.pk])
    assert again in page
    reply = owner_client.post(again, follow=True)
    assert "It was not sent: The mail server says" in text_of(reply)
    mail_server.error = None
    assert "Sent to reading@wexcombebay.example." in text_of(owner_client.post(again, follow=True))
    assert "on its way at this moment, or went already" in text_of(
        owner_client.post(again, follow=True)
    )
    assert len(mail.outbox) == 1


def test_a_waiting_letter_can_be_stopped_and_sent_after_all(owner_client, job):
    letter = letter_in_outbox(job)
    page = text_of(owner_client.post(reverse("letter_stop", args=[letter.pk]), follow=True))
    assert "Stopped. It does not go" in page
    assert "Send it after all" in page
    assert "on its way" in text_of(
        owner_client.post(reverse("letter_stop", args=[letter.pk]), follow=True)
    )


def test_an_outbox_without_a_mail_server_says_so(owner_client, business, settings):
    settings.EMAIL_BACKEND = "django.core.mail.backends.dummy.EmailBackend"
    page = text_of(owner_client.get(reverse("letter_list")))
    assert "No mail server is set up" in page
    assert "No letters yet" in page


def test_the_outbox_asks_the_same_few_questions_however_many_letters(
    owner_client, job, django_assert_max_num_queries
):
    def look(most: int) -> Any:
        with django_assert_max_num_queries(most) as asked:
            owner_client.get(reverse("letter_list"))
        return asked

    letter_in_outbox(job)
    outbox_send(now=NOW)
    letter_in_outbox(job)
    few = look(10)
    for _ in range(3):
        letter_in_outbox(job)
    outbox_send(now=NOW)
    letter_in_outbox(job)
    asked = look(len(few))
    assert not any('"attachment",' in query["sql"] for query in asked.captured_queries)


def test_the_owner_writes_her_own_words_and_takes_ours_back_after_a_question(owner_client, job):
    address = reverse("letter_text", args=["thank_you"])
    page = text_of(owner_client.get(address))
    assert "Thank you for letting me make Reading-week arch." in page
    assert "{arrival_window}" in page
    typed = {"subject": "For {client}", "body": "Hello {client}\r\n\r\nThanks!", "job": job.pk}
    shown = owner_client.post(address, {**typed, "preview": "yes"})
    assert "For Wexcombe Bay Library" in text_of(shown)
    assert not LetterText.objects.exists()
    owner_client.post(address, typed)
    assert LetterText.objects.get().body == "Hello {client}\n\nThanks!"
    reset = reverse("letter_text_reset", args=["thank_you"])
    assert reset in text_of(owner_client.get(address))
    question = text_of(owner_client.get(reset))
    assert "Back to our words?" in question
    assert LetterText.objects.exists()
    owner_client.post(reset)
    assert not LetterText.objects.exists()


def test_a_field_that_is_none_is_an_error_beside_the_box(owner_client, business):
    address = reverse("letter_text", args=["quote"])
    typed = {"subject": "For {client}", "body": "Hello {clint}, {total}"}
    reply = owner_client.post(address, typed)
    assert reply.status_code == 422
    assert list(reply.context["form"].errors) == ["body"]
    assert "{clint} is not a field" in text_of(reply)
    assert "Hello {clint}, {total}" in text_of(reply)
    assert re.search(r"<code>\{total\}</code>", text_of(reply))
    assert not LetterText.objects.exists()


def test_the_list_of_words_says_whose_they_are(owner_client, business):
    LetterText.objects.create(kind="quote", subject="Mine", body="Mine")
    page = text_of(owner_client.get(reverse("letter_text_list")))
    assert page.count("Your words</span>") == 1
    assert page.count('class="row-title"') == len(OURS)
