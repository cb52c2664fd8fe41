"""What is written into a letter, and what a letter refuses."""

from datetime import UTC, date, datetime

import pytest
from django.core import mail

from decor.letters.fields import every_field, late_fields
from decor.letters.filling import filled, problems_of
from decor.letters.service import (
    LetterRefused,
    letter_compose,
    letter_confirm,
    letter_write,
    outbox_send,
)
from decor.letters.texts import OURS, Words, words_set
from decor.models import Letter, Visit
from decor.models.letter import LetterKind
from decor.models.payment import DueKind, Means
from decor.payments.service import PlannedDue, payment_take, schedule_set
from tests.decor.letters.conftest import NOW, letter_in_outbox
from tests.factories import ClientFactory, JobFactory

INJECTED = "Bob\r\nBcc: everyone@elsewhere.example\r\n\r\nAnd a body of my own"


def test_there_is_a_text_of_ours_for_every_kind_and_all_its_fields_are_known():
    assert set(OURS) == set(LetterKind) - {LetterKind.NOTICE}
    for words in OURS.values():
        assert problems_of(words.subject) == problems_of(words.body) == []
        assert not [name for name in late_fields() if name in words.subject]
        assert len(words.body) < 4000


@pytest.mark.parametrize("kind", OURS)
def test_every_letter_of_ours_reads_well_for_a_job_that_knows_nothing_yet(kind, business):
    job = JobFactory(site=None, event_on=None)
    subject, body = letter_compose(kind, job)
    assert "{" not in subject
    assert "{" not in body.replace("{client_page}", "")
    assert "  " not in body
    assert "\n\n\n" not in body
    assert " ." not in body
    assert body.endswith("Nell Okafor-Hart\nLarkspur Lane Garlands")


def test_the_day_before_says_when_you_come_in_the_hours_of_the_business(job):
    # 9:00 in New York on 20 June 2026 is 13:00 UTC: daylight saving time, four hours behind.
    Visit.objects.create(
        job=job,
        kind="install",
        starts_at=datetime(2026, 6, 20, 13, tzinfo=UTC),
        ends_at=datetime(2026, 6, 20, 15, tzinfo=UTC),
        changed_at=NOW,
    )
    _, body = letter_compose(LetterKind.DAY_BEFORE, job)
    assert "I come between 9 a.m. and 9:30 a.m." in body
    assert "Library porch" in body
    assert (
        filled("I come {arrival_window}. Yes.", job) == "I come between 9 a.m. and 9:30 a.m. Yes."
    )
    assert filled("At {place}.", job) == "At Library porch."


def test_money_is_said_as_it_stands(job, time_machine):
    time_machine.move_to(NOW)
    dues = [
        PlannedDue(DueKind.DEPOSIT, date(2026, 6, 14), 20_000),
        PlannedDue(DueKind.BALANCE, date(2026, 6, 18), 21_250),
    ]
    schedule_set(job=job, dues=dues, source="LL-1001", now=NOW)
    assert letter_compose(LetterKind.PAYMENT_REMINDER, job)[0] == (
        "A payment for Reading-week arch: $200.00 by Sunday 14 June 2026"
    )
    payment_take(
        job=job,
        amount_cents=20_000,
        means=Means.TRANSFER,
        on=date(2026, 6, 13),
        note="",
        by=None,
        now=NOW,
    )
    subject, body = letter_compose(LetterKind.PAYMENT_IN, job)
    assert subject == "Thank you: $200.00 arrived"
    assert "Still to pay: $212.50, next by Thursday 18 June 2026." in body


def test_the_owners_own_words_are_used_once_she_has_any(job):
    words_set(kind=LetterKind.THANK_YOU, words=Words("For {first_name}", "Thanks!\n\n{job}"))
    assert letter_compose(LetterKind.THANK_YOU, job) == (
        "For Wexcombe",
        "Thanks!\n\nReading-week arch",
    )


def test_a_name_brings_in_no_field_of_its_own(business):
    client = ClientFactory(name="{client_page} {total")
    _, body = letter_compose(LetterKind.THANK_YOU, JobFactory(client=client))
    assert body.startswith("Hello (client_page) (total,")


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("Hello {cleint}", "{cleint} is not a field"),
        ("Hello {Client}", "{Client} is not a field"),
        ("Hello {}", "{} is not a field"),
        ("Hello {client", "A brace stands alone"),
        ("Hello client}", "A brace stands alone"),
        ("{client.email}", "{client.email} is not a field"),
    ],
)
def test_what_is_no_field_is_said(text, problem):
    assert problem in " ".join(problems_of(text))


def test_every_field_says_what_it_gives():
    for field in every_field():
        assert len(field.help) > 8


@pytest.mark.parametrize("line_break", ["\r\n", "\n", "\r", "\v", "\f", "\x85", "\u2028"])
def test_a_line_break_in_a_clients_name_adds_no_header(business, line_break):
    client = ClientFactory(name=INJECTED.replace("\r\n", line_break))
    job = JobFactory(client=client, title="{x}" + INJECTED)
    business.name = INJECTED
    business.save()
    letter_in_outbox(job, subject=f"For {client.name}")
    outbox_send(now=NOW)
    message = mail.outbox[0].message()
    assert message["Bcc"] is None
    assert len(message.get_all("To")) == 1
    assert mail.outbox[0].recipients() == [client.email]
    assert all(name.lower() != "bcc" for name in message.keys())  # noqa: SIM118


@pytest.mark.parametrize(
    "to",
    [
        "",
        "nobody",
        "a@b.example\r\nBcc: c@d.example",
        "a@b.example, c@d.example",
        "a@b.example\n",
        "Nell <a@b.example>",
    ],
)
def test_what_is_no_address_is_refused(job, to):
    with pytest.raises(LetterRefused, match="not an e-mail address"):
        letter_in_outbox(job, to=to)
    assert not Letter.objects.exists()


@pytest.mark.parametrize(
    ("changes", "why"),
    [
        ({"subject": " \n "}, "needs a subject"),
        ({"body": " \0 "}, "needs some words"),
        ({"body": "a" * 8001}, "at most 8000"),
        ({"body": "{client_page}"}, "no quote is made ready"),
    ],
)
def test_what_cannot_go_is_refused_with_the_reason(job, changes, why):
    with pytest.raises(LetterRefused, match=why):
        letter_in_outbox(job, **changes)


def test_a_press_for_another_job_is_refused(job):
    letter_in_outbox(job, entry_key="press-1")
    with pytest.raises(LetterRefused):
        letter_in_outbox(JobFactory(), entry_key="press-1")


def test_what_the_client_did_is_confirmed_once(job):
    first = letter_confirm(kind=LetterKind.DECLINED, job=job, now=NOW, entry_key="declined-1")
    again = letter_confirm(kind=LetterKind.DECLINED, job=job, now=NOW, entry_key="declined-1")
    assert first == again
    assert first.written_by is None
    assert first.to == job.client.email


def test_a_client_without_an_address_gets_no_letter_and_no_error(business):
    job = JobFactory(client=ClientFactory(email=""))
    assert letter_confirm(kind=LetterKind.ASKED, job=job, now=NOW, entry_key="a") is None


def test_nothing_but_a_confirmation_goes_without_the_owner(job):
    with pytest.raises(ValueError, match="the owner sends it"):
        letter_confirm(kind=LetterKind.THANK_YOU, job=job, now=NOW, entry_key="a")


def test_what_is_attached_arrives_as_it_was(job):
    from decor.letters.service import Attachment

    letter_write(
        kind=LetterKind.QUOTE,
        job=job,
        to=job.client.email,
        subject="Your quote",
        body="It is attached.",
        attachment=Attachment("LL-1001.pdf", "application/pdf", b"%PDF-\x00\xff"),
        by=None,
        now=NOW,
    )
    outbox_send(now=NOW)
    assert mail.outbox[0].attachments == [("LL-1001.pdf", b"%PDF-\x00\xff", "application/pdf")]
