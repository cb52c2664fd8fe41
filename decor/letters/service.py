"""Letters to clients: composed, written into the outbox, and sent from there.

Nothing goes without the owner's press but confirmations of what the client just did, and a notice
of it to the owner. Whoever
writes a letter may be inside a transaction: it is sent once that has committed, and if it cannot
be sent then, it waits in the outbox for `manage.py send_outbox`.
"""

from collections.abc import Mapping
from datetime import datetime
from functools import partial

from django.contrib.auth.models import User
from django.core.exceptions import ValidationError
from django.core.validators import validate_email
from django.db import IntegrityError, transaction

from decor.business.service import the_business
from decor.letters.attachments import Attachment
from decor.letters.filling import filled, late_in, one_line, plain_lines
from decor.letters.outbox import letter_stop, letter_try_again, outbox_send
from decor.letters.texts import Words, words_of
from decor.models import Job, Letter
from decor.models.letter import LetterKind

__all__ = [
    "Attachment",
    "LetterRefused",
    "letter_compose",
    "letter_confirm",
    "letter_notice",
    "letter_stop",
    "letter_try_again",
    "letter_write",
    "outbox_send",
]

CONFIRMATIONS = frozenset({LetterKind.ACCEPTED, LetterKind.DECLINED, LetterKind.ASKED})
LONGEST_SUBJECT = Letter._meta.get_field("subject").max_length
LONGEST_BODY = Letter._meta.get_field("body").max_length

NOT_AN_ADDRESS = "This is not an e-mail address: “{to}”."
NO_SUBJECT = "A letter needs a subject."
NO_WORDS = "A letter needs some words."
TOO_LONG = f"A letter has at most {LONGEST_BODY} characters."
OF_ANOTHER_JOB = "This press wrote a letter for another job already. Nothing was sent."


class LetterRefused(Exception):
    """The message is for the owner to read. Nothing was written."""


def letter_compose(kind: str, job: Job, told: Mapping[str, str] | None = None) -> tuple[str, str]:
    """Subject and body in the owner's words, filled in. Late fields are still in their braces."""
    words = words_of(kind)
    subject = one_line(filled(words.subject, job, told))[:LONGEST_SUBJECT]
    return subject, filled(words.body, job, told)


def letter_write(
    *,
    kind: str,
    job: Job | None,
    to: str,
    subject: str,
    body: str,
    attachment: Attachment | None = None,
    by: User | None,
    now: datetime,
    entry_key: str | None = None,
) -> Letter:
    """Raises LetterRefused. The same `entry_key` again gets the letter of the first time."""
    words = Words(one_line(subject)[:LONGEST_SUBJECT], plain_lines(body).strip())
    _refuse_what_cannot_go(job, to, words)
    before = _written_before(job, entry_key)
    if before:
        return before
    letter = Letter(
        job=job,
        kind=kind,
        to=to,
        subject=words.subject,
        body=words.body,
        written_by=by,
        written_at=now,
        entry_key=entry_key,
    )
    if attachment:
        letter.attachment_name = attachment.name
        letter.attachment_type = attachment.content_type
        letter.attachment = attachment.content
    try:
        with transaction.atomic():
            letter.save()
    except IntegrityError:
        crossed = _written_before(job, entry_key)
        if crossed is None:
            raise
        return crossed
    # Robust: whoever pressed gets their page, and the letter waits, whatever becomes of the mail.
    transaction.on_commit(partial(outbox_send, now=now, only=[letter.pk]), robust=True)
    return letter


def letter_confirm(
    *,
    kind: str,
    job: Job,
    now: datetime,
    attachment: Attachment | None = None,
    told: Mapping[str, str] | None = None,
    entry_key: str,
) -> Letter | None:
    """What the client just did, said back to them; None where they have no e-mail address.

    It never stands in the way of what they did. `told`: see filling.py.
    """
    if kind not in CONFIRMATIONS:
        raise ValueError(f"{kind} does not confirm what a client did: the owner sends it")
    subject, body = letter_compose(kind, job, told)
    letter = Words(subject, body)
    return _by_itself(kind, job, job.client.email, letter, now, entry_key, attachment)


def letter_notice(*, job: Job, words: Words, now: datetime, entry_key: str) -> Letter | None:
    """To the owner, of what a client just did; None where the business has no e-mail address."""
    business = the_business()
    to = business.email if business else ""
    return _by_itself(LetterKind.NOTICE, job, to, words, now, entry_key)


def _by_itself(
    kind: str,
    job: Job,
    to: str,
    words: Words,
    now: datetime,
    entry_key: str,
    attachment: Attachment | None = None,
) -> Letter | None:
    try:
        return letter_write(
            kind=kind,
            job=job,
            to=to,
            subject=words.subject,
            body=words.body[:LONGEST_BODY],
            attachment=attachment,
            by=None,
            now=now,
            entry_key=entry_key,
        )
    except LetterRefused:
        return None


def _refuse_what_cannot_go(job: Job | None, to: str, words: Words) -> None:
    try:
        validate_email(to)
    except ValidationError:
        raise LetterRefused(NOT_AN_ADDRESS.format(to=one_line(to))) from None
    if not words.subject:
        raise LetterRefused(NO_SUBJECT)
    if not words.body:
        raise LetterRefused(NO_WORDS)
    if len(words.body) > LONGEST_BODY:
        raise LetterRefused(TOO_LONG)
    missing = [field.missing(job) for field in late_in(words.body)] if job else []
    if any(missing):
        raise LetterRefused(" ".join(filter(None, missing)))


def _written_before(job: Job | None, entry_key: str | None) -> Letter | None:
    letter = Letter.objects.filter(entry_key=entry_key).first() if entry_key else None
    if letter and job and letter.job_id != job.pk:
        raise LetterRefused(OF_ANOTHER_JOB)
    return letter
