from collections.abc import Iterator
from datetime import UTC, datetime
from typing import Any

import pytest
from django.core.mail.backends.locmem import EmailBackend
from django.core.mail.message import EmailMessage

from decor.letters.service import letter_write
from decor.models import Business, Job, Letter
from decor.models.letter import LetterKind
from tests.factories import JobFactory

NOW = datetime(2026, 6, 13, 16, 0, tzinfo=UTC)


class FailingBackend(EmailBackend):
    """A mail server that answers every letter with `error`; without one, it takes them."""

    error: Exception | None = None
    tries = 0

    def send_messages(self, messages: list[EmailMessage]) -> int:
        type(self).tries += 1
        if self.error:
            raise self.error
        return super().send_messages(messages)


@pytest.fixture
def mail_server(settings: Any) -> Iterator[type[FailingBackend]]:
    settings.EMAIL_BACKEND = f"{__name__}.FailingBackend"
    FailingBackend.error, FailingBackend.tries = None, 0
    yield FailingBackend


@pytest.fixture
def job(business: Business) -> Job:
    return JobFactory()


def letter_in_outbox(job: Job, **changes: Any) -> Letter:
    what = {
        "kind": LetterKind.THANK_YOU,
        "job": job,
        "to": job.client.email,
        "subject": "Thank you for having me",
        "body": "Hello,\n\nthank you.\n\nNell",
        "by": None,
        "now": NOW,
    }
    return letter_write(**{**what, **changes})
