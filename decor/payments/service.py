"""What a client is to pay, and the money that came and went. Lines are added, never changed.

Whoever writes here locks the job first, so that two presses or two people never cross.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime

from django.contrib.auth.models import User
from django.db import transaction
from django.db.models import Sum

from decor.jobs.facts import done_if_settled, promised_by_deposit
from decor.models import Job, PaymentDue, PaymentLine
from decor.models.payment import DueKind, Means, PaymentKind
from decor.payments.signals import money_moved, schedule_changed

MORE_THAN_NOTHING = "An amount must be more than zero."
NOT_PAID_SO_MUCH = "More than was paid cannot be given back."
CORRECTED_ALREADY = "This line was corrected already. Nothing was changed."
IS_A_CORRECTION = "A correction is not corrected: enter what is right as a line of its own."
GIVEN_BACK_SINCE = (
    "This money was given back since. Correct the refund first, if that is what went wrong."
)
OF_ANOTHER_JOB = "This was entered for another job already. Nothing was changed."


class PaymentRefused(Exception):
    """The message is for the owner to read. Nothing was entered."""


@dataclass(frozen=True)
class PlannedDue:
    kind: DueKind
    due_on: date
    amount_cents: int
    label: str = ""


@transaction.atomic
def schedule_set(*, job: Job, dues: Iterable[PlannedDue], source: str, now: datetime) -> None:
    """The lines there were are marked as replaced and stay, to be read. No lines: nothing is
    agreed; one line of zero: it is agreed that nothing is owed."""
    _job_lock(job)
    PaymentDue.objects.filter(job=job, replaced_at=None).update(replaced_at=now)
    for due in dues:
        PaymentDue.objects.create(
            job=job,
            kind=due.kind,
            label=due.label,
            due_on=due.due_on,
            amount_cents=due.amount_cents,
            source=source,
            set_at=now,
        )
    schedule_changed.send(sender=PaymentDue, job=job, now=now)
    done_if_settled(job=job, by=None, now=now)


@transaction.atomic
def payment_take(
    *,
    job: Job,
    amount_cents: int,
    means: Means,
    on: date,
    note: str,
    by: User | None,
    now: datetime,
    entry_key: str | None = None,
) -> PaymentLine:
    """More than is owed may come: it is then owed back. A second press of one button, told by
    its `entry_key`, gets the line of the first."""
    _job_lock(job)
    if amount_cents <= 0:
        raise PaymentRefused(MORE_THAN_NOTHING)
    return _entered_before(job, entry_key) or _enter(
        PaymentLine(
            job=job,
            kind=PaymentKind.PAYMENT,
            amount_cents=amount_cents,
            means=means,
            on=on,
            note=note,
            by=by,
            at=now,
            entry_key=entry_key,
        )
    )


@transaction.atomic
def payment_refund(
    *,
    job: Job,
    amount_cents: int,
    means: Means,
    on: date,
    note: str,
    by: User | None,
    now: datetime,
    entry_key: str | None = None,
) -> PaymentLine:
    """`amount_cents` is above zero; the line is below."""
    _job_lock(job)
    if amount_cents <= 0:
        raise PaymentRefused(MORE_THAN_NOTHING)
    before = _entered_before(job, entry_key)
    if before:
        return before
    if amount_cents > paid_for(job):
        raise PaymentRefused(NOT_PAID_SO_MUCH)
    return _enter(
        PaymentLine(
            job=job,
            kind=PaymentKind.REFUND,
            amount_cents=-amount_cents,
            means=means,
            on=on,
            note=note,
            by=by,
            at=now,
            entry_key=entry_key,
        )
    )


@transaction.atomic
def payment_correct(*, line: PaymentLine, note: str, by: User | None, now: datetime) -> PaymentLine:
    """Takes a whole line back by another line."""
    _job_lock(line.job)
    if line.kind == PaymentKind.CORRECTION:
        raise PaymentRefused(IS_A_CORRECTION)
    if PaymentLine.objects.filter(corrects=line).exists():
        raise PaymentRefused(CORRECTED_ALREADY)
    if paid_for(line.job) < line.amount_cents:
        raise PaymentRefused(GIVEN_BACK_SINCE)
    return _enter(
        PaymentLine(
            job=line.job,
            kind=PaymentKind.CORRECTION,
            amount_cents=-line.amount_cents,
            means=line.means,
            on=line.on,
            note=note,
            corrects=line,
            by=by,
            at=now,
        )
    )


def paid_for(job: Job) -> int:
    """Cents that came and did not go back."""
    return job.payments.aggregate(paid=Sum("amount_cents"))["paid"] or 0


def _enter(line: PaymentLine) -> PaymentLine:
    line.save()
    if line.kind == PaymentKind.PAYMENT:
        promised_by_deposit(job=line.job, by=line.by, now=line.at)
    done_if_settled(job=line.job, by=line.by, now=line.at)
    money_moved.send(sender=PaymentLine, line=line)
    return line


def _entered_before(job: Job, entry_key: str | None) -> PaymentLine | None:
    line = PaymentLine.objects.filter(entry_key=entry_key).first() if entry_key else None
    if line and line.job_id != job.pk:
        raise PaymentRefused(OF_ANOTHER_JOB)
    return line


def _job_lock(job: Job) -> None:
    Job.objects.select_for_update(no_key=True).get(pk=job.pk)
