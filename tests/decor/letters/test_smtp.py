"""The outbox against a mail server that really answers, by the codes of RFC 5321, section 4.2."""

import email
from collections.abc import Iterator
from email import policy
from typing import Any

import pytest
from django.core.mail.utils import DNS_NAME

from decor.letters import postal
from decor.letters.service import letter_compose, outbox_send
from decor.mail_settings import mail_settings
from decor.models.letter import LetterKind, LetterState
from tests.decor.letters.conftest import NOW, letter_in_outbox
from tests.decor.letters.smtp_server import HANG_UP, MailServer, mail_server
from tests.factories import ClientFactory, JobFactory


@pytest.fixture
def server(settings: Any, monkeypatch: pytest.MonkeyPatch) -> Iterator[MailServer]:
    # What smtplib says of itself in EHLO: looking it up would ask a name server.
    monkeypatch.setattr(DNS_NAME, "_fqdn", "loopback", raising=False)
    with mail_server() as listening:
        for name, value in mail_settings(f"smtp://127.0.0.1:{listening.port}").items():
            setattr(settings, name, value)
        yield listening


def test_a_letter_arrives_with_its_words_and_nothing_that_a_name_brought_in(business, server):
    name = "Zoë\r\nBcc: all@elsewhere.example\r\n\r\n.\r\nQUIT"
    job = JobFactory(client=ClientFactory(name=name), title="Arch “by the sea”")
    subject, body = letter_compose(LetterKind.THANK_YOU, job)
    letter_in_outbox(job, subject=f"{subject} {name}", body=body)
    assert outbox_send(now=NOW) == 1
    ((recipients, text),) = server.taken
    assert recipients == ["rcpt TO:<reading@wexcombebay.example>"]
    message = email.message_from_string(text, policy=policy.default)
    assert "Thank you for having me Zoë Bcc: all@elsewhere.example . QUIT" in message["Subject"]
    assert message["Bcc"] is None
    assert message["To"] == "reading@wexcombebay.example"
    assert message["Reply-To"] == "nell@larkspurlane.example"


@pytest.mark.parametrize(
    ("verb", "answer", "state", "said"),
    [
        ("RCPT", "550 no such mailbox", LetterState.FAILED, "cannot get mail"),
        ("RCPT", "450 mailbox busy", LetterState.WAITING, "cannot get mail"),
        ("MAIL", "553 not from here", LetterState.WAITING, "will not send from"),
        ("TEXT", "451 try later", LetterState.WAITING, "its code: 451"),
        ("TEXT", HANG_UP, LetterState.WAITING, postal.NOT_REACHED),
        ("DATA", HANG_UP, LetterState.WAITING, postal.NOT_REACHED),
    ],
)
def test_what_the_server_answers_decides_what_becomes_of_a_letter(
    job, server, verb, answer, state, said
):
    letter = letter_in_outbox(job)
    server.answers[verb] = answer
    assert outbox_send(now=NOW) == 0
    letter.refresh_from_db()
    assert letter.state == state
    assert said in letter.last_error
    assert server.taken == []
    server.answers.clear()
    if state == LetterState.WAITING:
        assert outbox_send(now=letter.next_try_at) == 1


def test_a_server_that_is_not_there_leaves_the_letter_waiting(job, server, settings):
    letter = letter_in_outbox(job)
    settings.EMAIL_PORT = 1
    outbox_send(now=NOW)
    letter.refresh_from_db()
    assert (letter.state, letter.last_error) == (LetterState.WAITING, postal.NOT_REACHED)
