"""Which jobs a list shows, and in what order."""

from datetime import date

from django.db import models
from django.db.models import F, Q, QuerySet

from decor.clients.service import client_matches
from decor.models import Job


class When(models.TextChoices):
    UPCOMING = "upcoming", "Upcoming"
    PAST = "past", "Past"
    ALL = "all", "All dates"
    ARCHIVED = "archived", "Archived"


def with_rows(jobs: QuerySet[Job]) -> QuerySet[Job]:
    """All that a row of job_row.html shows, in as few questions however many rows there are."""
    return jobs.select_related("client", "site").prefetch_related("quotes__pieces")


def jobs_found(*, search: str, stage: str, when: str, today: date) -> QuerySet[Job]:
    """By date: soonest first, past ones last first, those without a date yet at the end."""
    jobs = with_rows(Job.objects).filter(
        _in_time(when, today), _matches(search), archived_at__isnull=when != When.ARCHIVED
    )
    if stage:
        jobs = jobs.filter(stage=stage)
    return jobs.order_by(_by_date(when), "event_time", "pk")


def _in_time(when: str, today: date) -> Q:
    if when == When.UPCOMING:
        return Q(event_on__gte=today) | Q(event_on=None)
    return Q(event_on__lt=today) if when == When.PAST else Q()


def _by_date(when: str) -> models.expressions.OrderBy:
    date_on = F("event_on")
    return date_on.asc(nulls_last=True) if when == When.UPCOMING else date_on.desc(nulls_last=True)


def _matches(search: str) -> Q:
    """Each word must be somewhere in the job, its place or its client."""
    here = Q()
    for word in search.split():
        here &= (
            Q(title__icontains=word)
            | Q(site__name__icontains=word)
            | Q(site__address__icontains=word)
            | client_matches(word, prefix="client__")
        )
    return here | client_matches(search, prefix="client__")
