"""What happened moves a job by itself: money came, everything is made, it hangs, it is down."""

from datetime import datetime

from django.contrib.auth.models import User
from django.db import transaction
from django.utils import timezone

from decor.jobs.stages import ON_THE_STRING, MoveRefused, job_move
from decor.models import Job, StageMove, Visit
from decor.models.job import Stage
from decor.models.visit import VisitKind
from decor.payments.account import account_of, deposit_is_in

DEPOSIT_IN = "The deposit came in"
SETTLED = "Paid in full, and nothing is left to take down"


@transaction.atomic
def fact_moves(
    *, job: Job, to: Stage, why: str, by: User | None, now: datetime
) -> StageMove | None:
    """Along the string, knot by knot, each with the same reason. None where the job is there or
    beyond already, has ended early or is archived. Raises MoveRefused where a room refuses."""
    there = Job.objects.select_for_update(no_key=True).get(pk=job.pk)
    job.stage, job.archived_at = there.stage, there.archived_at
    move = None
    for stage in _knots(job, to):
        move = job_move(job=job, to=stage, by=by, reason=why, now=now)
    if job.stage == Stage.UP:
        done_if_settled(job=job, by=by, now=now)
    return move


def promised_by_deposit(*, job: Job, by: User | None, now: datetime) -> None:
    """Where a room refuses, such as for want of stock, the money is in all the same: the job
    stays where it is, and its money section says so."""
    if not deposit_is_in(job):
        return
    try:
        fact_moves(job=job, to=Stage.PROMISED, why=DEPOSIT_IN, by=by, now=now)
    except MoveRefused:
        job.refresh_from_db(fields=["stage"])


def done_if_settled(*, job: Job, by: User | None, now: datetime) -> None:
    """For whoever entered the last of it: a payment, or that it is up or down."""
    is_up = Job.objects.filter(pk=job.pk, stage=Stage.UP, archived_at=None).exists()
    if not is_up or is_to_be_struck(job):
        return
    if account_of(job, today=timezone.localdate(now)).is_paid:
        fact_moves(job=job, to=Stage.DONE, why=SETTLED, by=by, now=now)


def is_to_be_struck(job: Job) -> bool:
    planned = Visit.objects.filter(job=job, kind=VisitKind.STRIKE)
    return planned.filter(called_off_at=None, done_at=None).exists()


def _knots(job: Job, to: Stage) -> tuple[Stage, ...]:
    """Still to go. Empty for a job that has left the string."""
    if job.is_archived or job.stage not in ON_THE_STRING:
        return ()
    return ON_THE_STRING[ON_THE_STRING.index(job.stage) + 1 : ON_THE_STRING.index(to) + 1]
