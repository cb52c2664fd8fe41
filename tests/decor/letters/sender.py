"""One `send_outbox` of the race, as a process of its own: told to go by its standard input."""

import sys
from datetime import datetime

from django.conf import settings
from django.db import connection
from django.db.models import F

from decor.letters.outbox import outbox_send
from decor.letters.postal import message_of
from decor.models import Letter
from decor.models.letter import LetterState


def with_claims(now: datetime) -> int:
    return outbox_send(now=now)


def without_claims(now: datetime) -> int:
    """Look, send, then write: right for one alone."""
    sent = 0
    for letter in Letter.objects.filter(state=LetterState.WAITING).order_by("pk"):
        message_of(letter, body=letter.body).send()
        Letter.objects.filter(pk=letter.pk).update(
            state=LetterState.SENT, sent_at=now, tries=F("tries") + 1
        )
        sent += 1
    return sent


WAYS = {"with-claims": with_claims, "without-claims": without_claims}


def main(folder: str) -> None:
    settings.EMAIL_BACKEND = "django.core.mail.backends.filebased.EmailBackend"
    settings.EMAIL_FILE_PATH = folder
    connection.ensure_connection()
    print("ready", flush=True)  # noqa: T201
    for line in sys.stdin:
        how, at = line.split()
        print(WAYS[how](datetime.fromisoformat(at)), flush=True)  # noqa: T201
