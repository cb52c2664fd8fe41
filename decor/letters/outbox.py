"""Sending what waits in the outbox.

At least once: a letter is claimed, handed to the mail server, then noted as sent. If the machine
stops between the last two, the claim runs out and the letter goes again, with the same Message-ID,
because a quote that never arrives costs more than one that arrives twice.
"""

import logging
from collections.abc import Collection
from datetime import datetime, timedelta

from django.conf import settings
from django.db.models import F, Q, QuerySet

from decor.letters.fields import Minted
from decor.letters.filling import late_filled, late_in
from decor.letters.postal import Failure, failure_of, message_of
from decor.models import Letter
from decor.models.letter import LetterState

logger = logging.getLogger(__name__)

NOT_MADE_READY = "This letter could not be made ready for sending. The app's log says more."
# Longer than any try can take (settings.EMAIL_TIMEOUT bounds each step of it).
CLAIM = timedelta(minutes=10)
# After the first failure, the second, and so on; after the last of them it is given up.
WAITS = (
    timedelta(minutes=1),
    timedelta(minutes=5),
    timedelta(minutes=30),
    timedelta(hours=2),
    timedelta(hours=8),
)
NO_MAIL_SERVER = "django.core.mail.backends.dummy.EmailBackend"


def mail_is_set_up() -> bool:
    return settings.EMAIL_BACKEND != NO_MAIL_SERVER


def outbox_send(*, now: datetime, only: Collection[int] | None = None) -> int:
    """Sends what is due, or of `only` these; says how many went. Call outside any transaction.

    Two that run at once never send the same letter: each takes it by a guarded update.
    """
    if not mail_is_set_up():
        return 0
    sent = 0
    for pk in _due(now, only):
        letter = _claimed(pk, now)
        if letter is None:
            continue
        failure = _delivered(letter, now)
        if failure is None:
            sent += 1
        elif failure.is_the_server:
            break
    return sent


def letter_try_again(*, letter: Letter, now: datetime) -> bool:
    """Puts one that was given up or stopped, or waits for later, back at the front.

    False where it was sent, or may be on its way at this moment.
    """
    again = Letter.objects.exclude(state=LetterState.SENT).exclude(_is_claimed(now))
    return bool(
        again.filter(pk=letter.pk).update(
            state=LetterState.WAITING, tries=0, next_try_at=None, last_error=""
        )
    )


def letter_stop(*, letter: Letter) -> bool:
    """It stays as it is, to be read, and does not go unless it is tried again."""
    waiting = Letter.objects.filter(pk=letter.pk, state=LetterState.WAITING)
    return bool(waiting.update(state=LetterState.STOPPED))


def _due(now: datetime, only: Collection[int] | None) -> list[int]:
    due = Letter.objects.filter(_is_its_time(now), state=LetterState.WAITING)
    if only is not None:
        due = due.filter(pk__in=only)
    return list(due.order_by("pk").values_list("pk", flat=True))


def _is_its_time(now: datetime) -> Q:
    return Q(next_try_at=None) | Q(next_try_at__lte=now)


def _is_claimed(now: datetime) -> Q:
    """A letter that waits after a failure has an error; one that is being sent has none."""
    return Q(next_try_at__gt=now, last_error="")


def _claimed(pk: int, now: datetime) -> Letter | None:
    free = Letter.objects.filter(_is_its_time(now), pk=pk, state=LetterState.WAITING)
    if not free.update(tries=F("tries") + 1, next_try_at=now + CLAIM, last_error=""):
        return None
    return Letter.objects.select_related("job__client", "job__site").get(pk=pk)


def _delivered(letter: Letter, now: datetime) -> Failure | None:
    minted: dict[str, Minted] = {}
    try:
        for field in late_in(letter.body):
            minted[field.name] = field.mint(letter.job, now)
        body = late_filled(letter.body, {name: late.text for name, late in minted.items()})
        message_of(letter, body=body).send()
    except Exception as error:
        for late in minted.values():
            late.revoke()
        failure = failure_of(error, letter)
        if failure is None:
            logger.exception("Letter %s could not be made into a message", letter.pk)
            failure = Failure(words=NOT_MADE_READY)
        _put_back(letter, failure, now)
        return failure
    _mark_sent(letter, now)
    return None


def _mark_sent(letter: Letter, now: datetime) -> None:
    """Even if it was stopped meanwhile: it did go."""
    Letter.objects.filter(pk=letter.pk).update(
        state=LetterState.SENT, sent_at=now, next_try_at=None, last_error=""
    )


def _put_back(letter: Letter, failure: Failure, now: datetime) -> None:
    is_over = failure.is_for_good or letter.tries > len(WAITS)
    mine: QuerySet[Letter] = Letter.objects.filter(pk=letter.pk, tries=letter.tries)
    mine.filter(state=LetterState.WAITING).update(
        state=LetterState.FAILED if is_over else LetterState.WAITING,
        next_try_at=None if is_over else now + WAITS[letter.tries - 1],
        last_error=failure.words[:300],
    )
