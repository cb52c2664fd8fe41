"""Hours of work by phase, by a clock on the sheet or typed."""

from collections.abc import Iterable
from datetime import date, datetime, time, timedelta
from math import ceil

from django.db import transaction
from django.utils import timezone

from decor.models import Job, Visit
from inventory.ledger.service import By
from quoting.making.told import Worked
from quoting.models import WorkTime
from quoting.models.making import MOST_MINUTES, WorkSource

# Typed work has a day and a length; where it began is not asked.
TYPED_FROM = time(12)


def clock_take(*, job: Job, worked: Worked, by: By) -> WorkTime:
    """Starting twice starts one clock; what stops it may come first. The job is locked."""
    clock = _clock(job, worked)
    if clock is None:
        return WorkTime.objects.create(
            key=worked.key,
            job=job,
            visit=job.visits.filter(pk=worked.visit).first(),
            phase=worked.phase,
            people=worked.people,
            started_at=worked.started_at,
            stopped_at=worked.stopped_at,
            minutes=_minutes(worked.started_at, worked.stopped_at),
            by=by,
        )
    if clock.stopped_at is None and worked.stopped_at is not None:
        clock.stopped_at = max(clock.started_at, worked.stopped_at)
        clock.minutes = _minutes(clock.started_at, clock.stopped_at)
        clock.people = worked.people
        clock.save(update_fields=["stopped_at", "minutes", "people"])
    return clock


def _clock(job: Job, worked: Worked) -> WorkTime | None:
    """Its own; else the one that runs for this phase, as another phone may have started it."""
    own = WorkTime.objects.filter(key=worked.key).first()
    return own or job.work_times.filter(phase=worked.phase, stopped_at=None).first()


def _minutes(started_at: datetime, stopped_at: datetime | None) -> int | None:
    """None while it runs, and where it ran longer than anybody works: that is to be typed."""
    if stopped_at is None:
        return None
    minutes = max(1, ceil((stopped_at - started_at) / timedelta(minutes=1)))
    return minutes if minutes <= MOST_MINUTES else None


@transaction.atomic
def work_type(
    *,
    job: Job,
    phase: str,
    on: date,
    minutes: int,
    people: int,
    by: By,
    visit: Visit | None = None,
) -> WorkTime:
    """Takes the place of clocks of that phase and day that were left running too long."""
    forgotten = [
        clock.pk
        for clock in job.work_times.filter(phase=phase, minutes=None, stopped_at__isnull=False)
        if timezone.localdate(clock.started_at) == on
    ]
    WorkTime.objects.filter(pk__in=forgotten).delete()
    begun = timezone.make_aware(datetime.combine(on, TYPED_FROM))
    return WorkTime.objects.create(
        job=job,
        visit=visit,
        phase=phase,
        source=WorkSource.TYPED,
        started_at=begun,
        stopped_at=begun + timedelta(minutes=minutes),
        minutes=minutes,
        people=people,
        by=by,
    )


def person_minutes(times: Iterable[WorkTime], *, now: datetime) -> int:
    """Those of clocks that run counted up to now."""
    return sum(
        (each.minutes or _minutes(each.started_at, each.stopped_at or now) or 0) * each.people
        for each in times
    )
