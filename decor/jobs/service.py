"""Jobs: an enquiry becomes one, and it is put away or brought back, never deleted."""

from dataclasses import dataclass
from datetime import date, datetime, time

from django.contrib.auth.models import User
from django.db import IntegrityError, transaction

from decor.clients.contacts import contact_from_text
from decor.clients.service import client_add, client_asks_again, site_at
from decor.jobs.photos import tray_empty_into
from decor.models import Client, Job, StageMove
from decor.models.job import Stage

GARLAND_FOR = "Garland for {name}"


@dataclass(frozen=True, kw_only=True)
class Enquiry:
    """What was said on the phone. `client` is someone known already; else one is made.

    `press` tells one press of the button from every other: see enquiry_form.py.
    """

    name: str
    contact: str
    client: Client | None = None
    title: str = ""
    event_on: date | None = None
    event_time: time | None = None
    place: str = ""
    is_outdoor: bool = False
    note: str = ""
    tray: str = ""
    press: str | None = None


def enquiry_take(*, enquiry: Enquiry, by: User | None, now: datetime) -> Job:
    """Of two that cross with the same press, both get the one job."""
    try:
        return _taken_down(enquiry, by, now)
    except IntegrityError:
        taken = job_of_press(enquiry.press)
        if taken is None:
            raise
        return taken


def job_of_press(press: str | None) -> Job | None:
    return Job.objects.filter(press=press).first() if press else None


@transaction.atomic
def _taken_down(enquiry: Enquiry, by: User | None, now: datetime) -> Job:
    client = _client_of(enquiry)
    job = Job(
        client=client,
        site=site_at(client=client, name=enquiry.place, is_outdoor=enquiry.is_outdoor),
        title=enquiry.title or GARLAND_FOR.format(name=client.name)[:120],
        event_on=enquiry.event_on,
        event_time=enquiry.event_time,
        note=enquiry.note,
        press=enquiry.press,
    )
    job.full_clean(validate_unique=False)  # the database says so, also when two cross
    job.save()
    tray_empty_into(job=job, tray=enquiry.tray)
    StageMove.objects.create(job=job, to_stage=Stage.ASKED, moved_by=by, moved_at=now)
    return job


def _client_of(enquiry: Enquiry) -> Client:
    contact = contact_from_text(enquiry.contact)
    if enquiry.client is None:
        return client_add(name=enquiry.name, contact=contact)
    client_asks_again(client=enquiry.client, contact=contact)
    return enquiry.client


def job_archive(*, job: Job, now: datetime) -> None:
    Job.objects.filter(pk=job.pk, archived_at=None).update(archived_at=now)


def job_bring_back(*, job: Job) -> None:
    Job.objects.filter(pk=job.pk).update(archived_at=None)
