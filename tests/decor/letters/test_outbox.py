"""The outbox: nothing is lost, nothing goes twice, a failure is told in plain words."""

import smtplib
from datetime import timedelta

import pytest
from django.core import mail
from django.core.management import call_command

from decor.letters import postal
from decor.letters.outbox import CLAIM, WAITS
from decor.letters.service import letter_stop, letter_try_again, outbox_send
from decor.management.commands.send_outbox import NO_SERVER
from decor.models import Letter
from decor.models.letter import LetterState
from tests.decor.letters.conftest import NOW, letter_in_outbox


def test_a_letter_goes_once_from_the_business_by_name_and_answers_come_to_it(job):
    letter = letter_in_outbox(job)
    assert outbox_send(now=NOW) == 1
    assert outbox_send(now=NOW) == 0
    (message,) = mail.outbox
    assert message.from_email == "Larkspur Lane Garlands <nell@larkspurlane.example>"
    assert message.reply_to == ["nell@larkspurlane.example"]
    assert message.to == [job.client.email]
    letter.refresh_from_db()
    assert (letter.state, letter.sent_at, letter.tries) == (LetterState.SENT, NOW, 1)


def test_a_letter_goes_by_itself_once_what_wrote_it_has_committed(
    job, django_capture_on_commit_callbacks
):
    with django_capture_on_commit_callbacks(execute=True):
        letter_in_outbox(job)
        assert mail.outbox == []
    assert len(mail.outbox) == 1


def test_an_address_of_its_own_may_send_for_the_business(job, settings):
    settings.DEFAULT_FROM_EMAIL = "post@letters.example"
    letter_in_outbox(job)
    outbox_send(now=NOW)
    assert mail.outbox[0].from_email == "Larkspur Lane Garlands <post@letters.example>"
    assert mail.outbox[0].reply_to == ["nell@larkspurlane.example"]


def test_the_same_press_writes_one_letter(job):
    first = letter_in_outbox(job, entry_key="press-1")
    assert letter_in_outbox(job, entry_key="press-1") == first
    assert Letter.objects.count() == 1


def test_a_server_that_fails_is_left_alone_longer_each_time_and_then_it_is_given_up(
    job, mail_server
):
    letter = letter_in_outbox(job)
    mail_server.error = smtplib.SMTPDataError(451, b"try later")
    now = NOW
    for wait in WAITS:
        outbox_send(now=now)
        letter.refresh_from_db()
        assert letter.state == LetterState.WAITING
        assert letter.next_try_at == now + wait
        assert outbox_send(now=letter.next_try_at - timedelta(seconds=1)) == 0
        now = letter.next_try_at
    outbox_send(now=now)
    letter.refresh_from_db()
    assert letter.state == LetterState.FAILED
    assert letter.last_error == "The mail server did not take it (its code: 451)."
    assert mail_server.tries == len(WAITS) + 1


def test_one_given_up_goes_when_it_is_tried_again(job, mail_server):
    letter = letter_in_outbox(job)
    mail_server.error = smtplib.SMTPRecipientsRefused({job.client.email: (550, b"unknown")})
    outbox_send(now=NOW)
    letter.refresh_from_db()
    assert (letter.state, letter.tries) == (LetterState.FAILED, 1)
    mail_server.error = None
    assert letter_try_again(letter=letter, now=NOW)
    assert outbox_send(now=NOW) == 1
    letter.refresh_from_db()
    assert (letter.state, letter.last_error) == (LetterState.SENT, "")


def test_one_stopped_does_not_go_unless_it_is_tried_again(job):
    letter = letter_in_outbox(job)
    assert letter_stop(letter=letter)
    assert outbox_send(now=NOW) == 0
    letter_try_again(letter=letter, now=NOW)
    assert outbox_send(now=NOW) == 1
    assert not letter_stop(letter=letter)
    assert not letter_try_again(letter=letter, now=NOW)


def test_a_server_out_of_reach_is_not_asked_for_every_letter(job, mail_server):
    letters = [letter_in_outbox(job), letter_in_outbox(job)]
    mail_server.error = ConnectionRefusedError()
    outbox_send(now=NOW)
    assert mail_server.tries == 1
    errors = [Letter.objects.get(pk=letter.pk).last_error for letter in letters]
    assert errors == [postal.NOT_REACHED, ""]


@pytest.mark.parametrize(
    ("error", "words", "state"),
    [
        (TimeoutError(), postal.NOT_REACHED, LetterState.WAITING),
        (smtplib.SMTPServerDisconnected("gone"), postal.NOT_REACHED, LetterState.WAITING),
        (
            smtplib.SMTPAuthenticationError(535, b"no"),
            postal.LOGIN_REFUSED,
            LetterState.WAITING,
        ),
        # RFC 5321, 4.2.1: a 4yz reply is transient, a 5yz reply is permanent.
        (
            smtplib.SMTPRecipientsRefused({"a@b.example": (450, b"busy")}),
            postal.ADDRESS_REFUSED.format(to="reading@wexcombebay.example"),
            LetterState.WAITING,
        ),
        (
            smtplib.SMTPRecipientsRefused({"a@b.example": (550, b"unknown")}),
            postal.ADDRESS_REFUSED.format(to="reading@wexcombebay.example"),
            LetterState.FAILED,
        ),
        (smtplib.SMTPNotSupportedError("no"), postal.NOT_TAKEN.format(code=""), "waiting"),
    ],
)
def test_what_went_wrong_is_said_in_plain_words(job, mail_server, error, words, state):
    letter = letter_in_outbox(job)
    mail_server.error = error
    outbox_send(now=NOW)
    letter.refresh_from_db()
    assert (letter.last_error, letter.state) == (words, state)


def test_a_mistake_of_ours_holds_up_no_other_letter(job, mail_server, caplog):
    letter_in_outbox(job)
    mail_server.error = ZeroDivisionError()
    outbox_send(now=NOW)
    assert "could not be made into a message" in caplog.text
    mail_server.error = None
    letter_in_outbox(job)
    assert outbox_send(now=NOW) == 1


def test_a_crash_after_the_claim_sends_it_again_with_the_same_name_when_the_claim_runs_out(
    job, mail_server
):
    letter = letter_in_outbox(job)
    mail_server.error = KeyboardInterrupt()
    with pytest.raises(KeyboardInterrupt):
        outbox_send(now=NOW)
    mail_server.error = None
    assert outbox_send(now=NOW + CLAIM - timedelta(seconds=1)) == 0
    assert not letter_try_again(letter=letter, now=NOW)
    assert outbox_send(now=NOW + CLAIM) == 1
    name = mail.outbox[0].message()["Message-ID"]
    assert name == f"<letter-{letter.pk}-20260613160000000000@larkspurlane.example>"


def test_without_a_mail_server_letters_wait(job, settings, capsys):
    settings.EMAIL_BACKEND = "django.core.mail.backends.dummy.EmailBackend"
    letter = letter_in_outbox(job)
    call_command("send_outbox")
    assert NO_SERVER in capsys.readouterr().out
    letter.refresh_from_db()
    assert (letter.state, letter.tries) == (LetterState.WAITING, 0)


def test_the_command_sends_what_waits(job, capsys):
    letter_in_outbox(job)
    call_command("send_outbox")
    assert capsys.readouterr().out == "Sent: 1\n"


def test_without_any_address_of_its_own_a_business_sends_nothing(job, business):
    business.email = ""
    business.save()
    letter = letter_in_outbox(job)
    outbox_send(now=NOW)
    letter.refresh_from_db()
    assert letter.last_error == postal.NO_SENDER
