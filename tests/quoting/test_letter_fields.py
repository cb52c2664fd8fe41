"""What quotes give to a letter; above all the client's page, whose address is a secret."""

import re
import smtplib
from collections.abc import Iterator
from datetime import date, timedelta

import pytest
from django.apps import apps
from django.core import mail
from django.urls import reverse

from decor.letters.outbox import WAITS
from decor.letters.service import letter_compose, letter_confirm, letter_try_again, outbox_send
from decor.models import Letter
from decor.models.letter import LetterKind, LetterState
from quoting.client_page.links import link_of_token
from quoting.letter_fields import ANOTHER_TIME, I_CONFIRM, KEPT_BY_DEPOSIT
from quoting.models import ClientLink, ClientQuestion
from quoting.promise.service import question_ask
from tests.decor.letters.conftest import NOW, FailingBackend, letter_in_outbox
from tests.factories import JobFactory, QuoteFactory
from tests.quoting.plain_editions import answered, plain_edition

ADDRESS = re.compile(r"https?://\S+/([A-Za-z0-9_-]{43})/?")


@pytest.fixture
def job(business):
    job = JobFactory(stage="quoted")
    plain_edition(QuoteFactory(job=job, number="LL-1042", stage="sent"))
    return job


@pytest.fixture
def mail_server(settings) -> Iterator[type[FailingBackend]]:
    settings.EMAIL_BACKEND = f"{FailingBackend.__module__}.FailingBackend"
    FailingBackend.error = None
    yield FailingBackend


def quote_letter(job) -> Letter:
    subject, body = letter_compose(LetterKind.QUOTE, job)
    return letter_in_outbox(job, kind=LetterKind.QUOTE, subject=subject, body=body)


def token_in(text: str) -> str:
    (token,) = ADDRESS.findall(text)
    return token


def everything_kept() -> Iterator[str]:
    """Every value of every row of every table."""
    for model in apps.get_models():
        for row in model._base_manager.values_list():
            for value in row:
                yield (
                    bytes(value).decode("latin-1")
                    if isinstance(value, memoryview | bytes)
                    else str(value)
                )


def test_the_address_of_the_page_is_made_as_the_letter_goes_and_lies_nowhere(job):
    letter = quote_letter(job)
    assert not ClientLink.objects.exists()
    assert "{client_page}" in letter.body
    outbox_send(now=NOW)
    token = token_in(mail.outbox[0].body)
    assert link_of_token(token).quote.number == "LL-1042"
    assert letter.subject == "Your quote for Reading-week arch"
    letter.refresh_from_db()
    assert letter.state == LetterState.SENT
    assert "{client_page}" in letter.body
    kept = list(everything_kept())
    assert "LL-1042" in kept
    assert not [value for value in kept if token in value]


def test_a_try_that_fails_leaves_no_address_that_opens_anything(job, mail_server):
    letter = quote_letter(job)
    mail_server.error = smtplib.SMTPDataError(451, b"later")
    outbox_send(now=NOW)
    outbox_send(now=NOW + WAITS[0])
    assert ClientLink.objects.count() == 2
    assert not ClientLink.objects.filter(revoked_at=None).exists()
    mail_server.error = None
    letter_try_again(letter=letter, now=NOW)
    outbox_send(now=NOW)
    live = ClientLink.objects.get(revoked_at=None)
    assert link_of_token(token_in(mail.outbox[0].body)) == live


def test_the_text_to_copy_makes_one_address_at_the_press_and_keeps_none(owner_client, job):
    page = owner_client.get(reverse("letter_new", args=[job.pk, "quote"])).content.decode()
    assert "[their own private address, made as the letter goes]" in page
    assert "Attach LL-1042-edition-1.pdf" in page
    assert not ClientLink.objects.exists()
    form = {
        "to": "",
        "subject": "",
        "body": "Look: {client_page}",
        "press": "0b0f4c3e-7d9c-4d0a-9d0f-000000000001",
    }
    copied = owner_client.post(reverse("letter_copy", args=[job.pk, "quote"]), form)
    token = token_in(copied.content.decode())
    assert link_of_token(token).revoked_at is None
    assert ClientLink.objects.count() == 1
    assert not [value for value in everything_kept() if token in value]


def test_a_quote_goes_with_the_very_pdf_of_its_newest_edition(owner_client, job):
    newer = QuoteFactory(job=job, number="LL-1043", stage="sent")
    plain_edition(newer, sent_at=NOW + timedelta(hours=1), pdf=b"%PDF-1.7 newer", number=2)
    form = {
        "to": job.client.email,
        "subject": "Your quote",
        "body": "It is attached.",
        "attach": "on",
        "press": "0b0f4c3e-7d9c-4d0a-9d0f-000000000001",
    }
    owner_client.post(reverse("letter_new", args=[job.pk, "quote"]), form)
    letter = Letter.objects.get()
    assert letter.attachment_name == "LL-1043-edition-2.pdf"
    pdf = owner_client.get(reverse("letter_attachment", args=[letter.pk]))
    assert (pdf.content, pdf["Content-Type"]) == (b"%PDF-1.7 newer", "application/pdf")


def test_what_was_accepted_is_meant_and_not_what_was_sent_since(job):
    quote = job.quotes.get()
    answer = answered(quote.editions.get())
    plain_edition(QuoteFactory(job=job, number="LL-1043"), sent_at=NOW + timedelta(hours=1))
    _, body = letter_compose(LetterKind.ACCEPTED, job)
    assert "quote LL-1042 for Reading-week arch" in body
    assert "$500.00 in all" in body
    assert answer.total_cents == 50_000


@pytest.mark.parametrize(
    ("outcome", "said"),
    [
        ("held", KEPT_BY_DEPOSIT),
        ("to_buy", KEPT_BY_DEPOSIT),
        ("to_confirm", I_CONFIRM),
        ("time_taken", ANOTHER_TIME),
    ],
)
def test_a_confirmation_promises_no_more_than_was_kept(job, outcome, said):
    answered(job.quotes.get().editions.get(), outcome=outcome)
    letter = letter_confirm(kind=LetterKind.ACCEPTED, job=job, now=NOW, entry_key="accepted-1")
    assert said in letter.body
    assert [word for word in (KEPT_BY_DEPOSIT, I_CONFIRM, ANOTHER_TIME) if word in letter.body] == [
        said
    ]


def test_a_question_is_said_back_as_words_only(job):
    ClientQuestion.objects.create(
        quote=job.quotes.get(),
        text="Safe?\r\nBcc: all@elsewhere.example {client_page}",
        asked_at=NOW,
    )
    letter_confirm(kind=LetterKind.ASKED, job=job, now=NOW, entry_key="asked-1")
    outbox_send(now=NOW)
    message = mail.outbox[0]
    assert message.message()["Bcc"] is None
    assert message.recipients() == [job.client.email]
    assert "Bcc: all@elsewhere.example (client_page)" in message.body
    assert not ClientLink.objects.exists()


def test_a_quote_says_its_last_day(job):
    assert "good until Friday 19 June 2026" in letter_compose(LetterKind.QUOTE_REMINDER, job)[0]
    assert job.quotes.get().editions.get().expires_on == date(2026, 6, 19)


def test_of_two_quotes_the_one_is_named_that_the_client_answered(job):
    newer = QuoteFactory(job=job, number="LL-1043", stage="sent")
    plain_edition(newer, sent_at=NOW + timedelta(hours=1))
    older = job.quotes.get(number="LL-1042")
    question_ask(quote=older, text="Is it safe?", typed_name="Ada", now=NOW)
    letter = Letter.objects.get(kind=LetterKind.ASKED)
    assert letter.subject == "Your question about quote LL-1042"
    assert "Is it safe?" in letter.body
