"""Jobs: an enquiry becomes one, and it is put away or brought back, never deleted."""

from dataclasses import dataclass
from datetime import date, datetime, time

from django.contrib.auth.models import User
from django.db import transaction

from decor.clients.contacts import contact_from_text
from decor.clients.service import client_add, client_asks_again, site_at
from decor.jobs.photos import tray_empty_into
from decor.models import Client, Job, StageMove
from decor.models.job import Stage

GARLAND_FOR = "Garland for {name}"


@dataclass(frozen=True, kw_only=True)
class Enquiry:
    """What was said on the phone. `client` is someone known already; else one is made."""

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


@transaction.atomic
def enquiry_take(*, enquiry: Enquiry, by: User | None, now: datetime) -> Job:
    client = _client_of(enquiry)
    job = Job(
        client=client,
        site=site_at(client=client, name=enquiry.place, is_outdoor=enquiry.is_outdoor),
        title=enquiry.title or GARLAND_FOR.format(name=client.name)[:120],
        event_on=enquiry.event_on,
        event_time=enquiry.event_time,
        note=enquiry.note,
    )
    job.full_clean()
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
