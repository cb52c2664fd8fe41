"""The jobs that are made on one day."""

from datetime import date

from django.db.models import Q

from decor.models import Job
from decor.models.job import Stage
from inventory.models.hold import OPEN_STATES

AT_THE_BENCH = (Stage.PROMISED, Stage.MADE)


def jobs_made_on(on: date) -> list[Job]:
    """By the making sessions of the day; a job that has none is made when its stock is needed."""
    sessions = Q(making_sessions__on=on, making_sessions__called_off_at=None)
    held = Q(holds__needed_on=on, holds__state__in=OPEN_STATES)
    planned = Q(making_sessions__isnull=False, making_sessions__called_off_at=None)
    at_work = Job.objects.filter(stage__in=AT_THE_BENCH, archived_at=None)
    with_sessions = at_work.filter(planned).values("pk")
    found = at_work.filter(sessions | (held & ~Q(pk__in=with_sessions)))
    return list(found.select_related("client", "site").distinct().order_by("event_on", "pk"))


def days_together(job: Job) -> list[tuple[date, int]]:
    """Days on which other jobs are made beside this one, and how many they are."""
    sessions = job.making_sessions.filter(called_off_at=None).values_list("on", flat=True)
    held = job.holds.filter(state__in=OPEN_STATES).values_list("needed_on", flat=True)
    days = sorted(set(sessions) or set(held))
    shared = [(on, [each for each in jobs_made_on(on) if each.pk != job.pk]) for on in days]
    return [(on, len(others)) for on, others in shared if others]
