"""Hours at the bench for a job on a day: planned, called off, done."""

from datetime import date, datetime

from django.db import transaction
from django.db.models import F, QuerySet

from decor.calendar.visits import JOB_HAS_ENDED, JOB_IS_ARCHIVED
from decor.jobs.stages import ENDED_EARLY
from decor.models import Job, MakingSession
from decor.models.job import Stage

WHOLE_DAY = 24 * 60
DAY_HAS_SOME = "That day has hours for this job already: change those."
IS_OVER = "These hours are worked or called off already."
NO_SUCH_LENGTH = "Between 1 minute and 24 hours on one day, please."


class SessionRefused(Exception):
    """The message is for the owner to read."""


@transaction.atomic
def session_plan(
    *, job: Job, on: date, minutes: int, is_fixed: bool = False, now: datetime
) -> MakingSession:
    """One for each job and day: planned again, it has the new length."""
    _refuse_what_cannot_be(job, minutes)
    planned = MakingSession.objects.select_for_update(no_key=True)
    session = planned.filter(job=job, on=on, called_off_at=None).first()
    if session is None:
        return MakingSession.objects.create(
            job=job, on=on, minutes=minutes, is_fixed=is_fixed, changed_at=now
        )
    if (session.minutes, session.is_fixed) != (minutes, is_fixed):
        session.minutes, session.is_fixed, session.changed_at = minutes, is_fixed, now
        session.sequence += 1
        session.save()
    return session


@transaction.atomic
def session_move(*, session: MakingSession, on: date, minutes: int, now: datetime) -> MakingSession:
    """By hand: a new plan leaves it where it is."""
    moved = MakingSession.objects.select_for_update(no_key=True).get(pk=session.pk)
    if moved.called_off_at or moved.done_at:
        raise SessionRefused(IS_OVER)
    _refuse_what_cannot_be(moved.job, minutes)
    others = MakingSession.objects.filter(job=moved.job, on=on, called_off_at=None)
    if others.exclude(pk=moved.pk).exists():
        raise SessionRefused(DAY_HAS_SOME)
    moved.on, moved.minutes, moved.is_fixed = on, minutes, True
    moved.changed_at, moved.sequence = now, moved.sequence + 1
    moved.save()
    return moved


@transaction.atomic
def session_pin(*, session: MakingSession, is_fixed: bool) -> None:
    """Whether a new plan leaves it where it is. Nothing a calendar shows, so no new sequence."""
    open_ones = MakingSession.objects.filter(pk=session.pk, called_off_at=None, done_at=None)
    if not open_ones.update(is_fixed=is_fixed):
        raise SessionRefused(IS_OVER)
    session.is_fixed = is_fixed


def session_call_off(*, session: MakingSession, now: datetime) -> None:
    _call_off(MakingSession.objects.filter(pk=session.pk), now)
    session.refresh_from_db()


def sessions_call_off_all(*, job: Job, now: datetime) -> None:
    """All that have not been worked yet."""
    _call_off(MakingSession.objects.filter(job=job), now)


@transaction.atomic
def sessions_are_over(*, job: Job, today: date, now: datetime) -> None:
    """All of it is made: the hours up to today were worked, later ones are free again."""
    open_ones = MakingSession.objects.filter(job=job, called_off_at=None, done_at=None)
    open_ones.filter(on__lte=today).update(done_at=now)
    _call_off(MakingSession.objects.filter(job=job), now)


def _refuse_what_cannot_be(job: Job, minutes: int) -> None:
    if job.is_archived:
        raise SessionRefused(JOB_IS_ARCHIVED)
    if job.stage in ENDED_EARLY:
        raise SessionRefused(JOB_HAS_ENDED.format(stage=Stage(job.stage).label.lower()))
    if not 0 < minutes <= WHOLE_DAY:
        raise SessionRefused(NO_SUCH_LENGTH)


def _call_off(sessions: QuerySet[MakingSession], now: datetime) -> None:
    sessions.filter(called_off_at=None, done_at=None).update(
        called_off_at=now, changed_at=now, sequence=F("sequence") + 1
    )
