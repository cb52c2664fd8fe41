"""A promised job ends before its day: by its client, who then owes what the terms keep, or by us,
who then give back everything."""

from datetime import datetime

from django.contrib.auth.models import User
from django.db import models, transaction
from django.utils import timezone

from decor.jobs.stages import MoveRefused, job_move
from decor.models import Job
from decor.models.job import Stage
from decor.models.payment import DueKind
from decor.payments.service import PlannedDue, schedule_set
from quoting.calling_off.answer import CallingOff, calling_off

ONLY_PROMISED = "Only a job that is promised and not up yet can be called off."
OTHERWISE_THAN_SHOWN = (
    "Something changed since you looked: a day, a payment or the quote. Look at the sums again."
)
MORE_THAN_AGREED = "More than was agreed in all cannot be kept."
BY = {"client": "The client called it off: {why}", "us": "We called it off: {why}"}
LABELS = {"client": "Called off by the client", "us": "Called off by us"}

CALLED_OFF_FROM = frozenset({Stage.PROMISED, Stage.MADE})


class Who(models.TextChoices):
    CLIENT = "client", "The client calls it off"
    US = "us", "We call it off"


class CallingOffRefused(Exception):
    """The message is for the owner to read. Nothing was changed."""


@transaction.atomic
def job_call_off(
    *,
    job: Job,
    who: Who,
    why: str,
    shown: tuple[int, int],
    keep_cents: int | None,
    by: User | None,
    now: datetime,
) -> CallingOff:
    """`shown` are the kept and paid cents that were looked at before it was confirmed. `keep_cents`
    is what the owner keeps instead of what the terms say; None keeps to the terms."""
    locked = Job.objects.select_for_update(no_key=True).get(pk=job.pk)
    if locked.stage not in CALLED_OFF_FROM:
        raise CallingOffRefused(ONLY_PROMISED)
    answer = calling_off(locked, on=timezone.localdate(now))
    if shown != (answer.kept_cents, answer.paid_cents):
        raise CallingOffRefused(OTHERWISE_THAN_SHOWN)
    kept = kept_by(answer, who=who, keep_cents=keep_cents)
    if kept > answer.total_cents:
        raise CallingOffRefused(MORE_THAN_AGREED)
    try:
        job_move(job=locked, to=Stage.CALLED_OFF, by=by, reason=BY[who].format(why=why), now=now)
    except MoveRefused as refused:
        raise CallingOffRefused(str(refused)) from refused
    due = PlannedDue(DueKind.CALLING_OFF, answer.on, kept, LABELS[who])
    source = answer.account.dues[0].due.source if answer.account.dues else ""
    schedule_set(job=locked, dues=[due], source=source, now=now)
    job.stage = locked.stage
    return answer


def kept_by(answer: CallingOff, *, who: Who, keep_cents: int | None) -> int:
    if who == Who.US:
        return 0
    return answer.kept_cents if keep_cents is None else keep_cents
