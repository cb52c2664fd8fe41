"""One who plans, as a process of its own: told by its standard input how and for which day, it
answers in a line what came of it."""

import sys
import traceback
from datetime import UTC, date, datetime, time, timedelta

from django.db import connection

from decor.calendar.capacity import clashes
from decor.calendar.visits import VisitClash, visit_plan
from decor.models import Job, Visit
from decor.models.visit import VisitKind

NOW = datetime(2026, 6, 13, 15, 0, tzinfo=UTC)


def with_locks(job: Job, starts_at: datetime, ends_at: datetime) -> str:
    try:
        visit_plan(job=job, kind=VisitKind.REVISIT, starts_at=starts_at, ends_at=ends_at, now=NOW)
    except VisitClash:
        return "clash"
    return "planned"


def without_locks(job: Job, starts_at: datetime, ends_at: datetime) -> str:
    """Look, then write: right for one alone."""
    kind = VisitKind.REVISIT
    visit = Visit(job=job, kind=kind, starts_at=starts_at, ends_at=ends_at, changed_at=NOW)
    if clashes(visit):
        return "clash"
    visit.save()
    return "planned"


WAYS = {"with-locks": with_locks, "without-locks": without_locks}


def main(job_pk: str) -> None:
    job = Job.objects.get(pk=int(job_pk))
    connection.ensure_connection()
    print("ready", flush=True)  # noqa: T201
    for line in sys.stdin:
        how, day = line.split()
        starts_at = datetime.combine(date.fromisoformat(day), time(13), tzinfo=UTC)
        try:
            answer = WAYS[how](job, starts_at, starts_at + timedelta(hours=2))
        except Exception:
            answer = "EXCEPTION " + traceback.format_exc().replace("\n", " | ")
        print(answer, flush=True)  # noqa: T201
