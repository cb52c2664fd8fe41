"""What happened to the demo's jobs after they were quoted: promised, paid, made, hung, looked back
on. Each goes through the same services as the owner's own, at the hours at which it would have."""

import uuid
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

from django.contrib.auth.models import User

from decor.calendar.visits import visit_done
from decor.jobs.facts import fact_moves
from decor.models import CrewMember, Job, Visit
from decor.models.crew import Role
from decor.models.job import Stage
from decor.models.payment import Means
from decor.models.visit import VisitKind
from decor.payments.account import account_of
from decor.payments.service import payment_take
from quoting.demo.scenario import DemoJob
from quoting.installing.service import work_sign
from quoting.look_back.service import look_back_close, look_back_keep
from quoting.making.plan import plan_for
from quoting.making.ticks import ticks_take
from quoting.making.working import work_type
from quoting.models import Quote
from quoting.promise.by_hand import said_yes

# How many times as long as planned each kind of work took, job by job.
TOOK: Final[Mapping[str, Mapping[str, float]]] = {
    "Summer fair arch": {"inflate and tie": 1.22, "twist clusters": 1.05, "hang": 1.35},
    "Harvest window": {"inflate and tie": 1.15, "twist clusters": 0.95, "hang": 1.10},
    "Rowers' prize table": {"inflate and tie": 1.31, "twist clusters": 1.10, "hang": 1.20},
    "Growers' show stage": {"inflate and tie": 1.18, "twist clusters": 1.02, "hang": 1.28},
}
SAID: Final[Mapping[str, str]] = {
    "Summer fair arch": "People queued to be photographed under it.",
    "Harvest window": "Two of the starbursts were soft by the weekend.",
    "Rowers' prize table": "Held all evening, even with the doors open.",
    "Growers' show stage": "Could it have been longer by an arm?",
}
# Deposits that have not come yet.
DEPOSIT_WAITS: Final = frozenset({"Sailing supper arch"})
# Not yet paid in full, though it was due.
BALANCE_WAITS: Final = frozenset({"Sixth birthday porch"})


@dataclass(frozen=True, kw_only=True)
class Moments:
    """When each thing happened, as far as it has."""

    promised: datetime
    deposit: datetime
    balance: datetime
    made: datetime
    up: datetime
    down: datetime
    looked_back: datetime


def crew_make(owner: User, helper: User) -> None:
    """Nell and Tomas, with his login. Made once."""
    if CrewMember.objects.exists():
        return
    CrewMember.objects.create(name=owner.get_full_name(), role=Role.OWNER, user=owner)
    CrewMember.objects.create(name=helper.first_name, user=helper, phone="(207) 555-0118")


def job_promise(quote: Quote, demo: DemoJob, *, owner: User, quoted_at: datetime) -> None:
    """The client said yes on the phone, and paid the deposit but for a few."""
    job, at = quote.job, moments_of(quote.job, quoted_at)
    said_yes(quote=quote, by=owner, now=at.promised)
    if demo.title not in DEPOSIT_WAITS:
        _pay_next(job, owner=owner, at=at.deposit)


def job_work(job: Job, demo: DemoJob, *, owner: User, now: datetime) -> None:
    """From the promise to where the job is now. What has been done already is left alone."""
    at = moments_of(job, job.stage_moves.get(to_stage=Stage.PROMISED).moved_at)
    if demo.title not in BALANCE_WAITS and at.balance <= now:
        _pay_next(job, owner=owner, at=at.balance)
    if demo.stage == Stage.PROMISED:
        return
    _make(job, owner=owner, at=min(at.made, now))
    if demo.stage == Stage.MADE:
        return
    _hang(job, owner=owner, at=at)
    _look_back(job, owner=owner, at=at.looked_back)


def moments_of(job: Job, promised: datetime) -> Moments:
    install = job.visits.filter(kind=VisitKind.INSTALL, called_off_at=None).first()
    up = install.ends_at if install else promised + timedelta(days=20)
    return Moments(
        promised=promised,
        deposit=promised + timedelta(days=1),
        balance=up - timedelta(days=6),
        made=up - timedelta(hours=20),
        up=up,
        down=up + timedelta(days=1),
        looked_back=up + timedelta(days=3),
    )


def _pay_next(job: Job, *, owner: User, at: datetime) -> None:
    due = account_of(job, today=at.date()).next_due
    if due is None:
        return
    payment_take(
        job=job,
        amount_cents=due.open_cents,
        means=Means.TRANSFER,
        on=at.date(),
        note="",
        by=owner,
        now=at,
        entry_key=f"demo-{job.pk}-{due.due.pk}",
    )


def _make(job: Job, *, owner: User, at: datetime) -> None:
    """Everything on its sheet is counted, and so the shelf follows."""
    ticks = [
        {
            "key": str(uuid.uuid4()),
            "step": step.name,
            "quantity": step.target,
            "at": at.isoformat(),
        }
        for step in plan_for(job).steps
    ]
    ticks_take(job=job, ticks=ticks, by=owner, now=at)
    job.refresh_from_db()


def _hang(job: Job, *, owner: User, at: Moments) -> None:
    install = Visit.objects.filter(job=job, kind=VisitKind.INSTALL).first()
    if install is None:
        fact_moves(job=job, to=Stage.UP, why="It hangs", by=owner, now=at.up)
    else:
        work_sign(visit=install, typed_name=job.client.name, by=owner, now=at.up)
    for strike in Visit.objects.filter(job=job, kind=VisitKind.STRIKE, called_off_at=None):
        visit_done(visit=strike, by=owner, now=at.down)
    job.refresh_from_db()


def _look_back(job: Job, *, owner: User, at: datetime) -> None:
    took = TOOK.get(job.title)
    if took is None:
        return
    hours = _planned_hours(job)
    for phase, times in took.items():
        if phase in hours:
            minutes = max(1, round(hours[phase] * times * 60))
            work_type(job=job, phase=phase, on=at.date(), minutes=minutes, people=1, by=owner)
    look_back_keep(job=job, client_said=SAID[job.title], note="", clusters_hung={}, left_out=())
    look_back_close(job=job, by=owner, now=at)


def _planned_hours(job: Job) -> dict[str, float]:
    found: dict[str, float] = {}
    for piece in plan_for(job).pieces:
        for line in piece.estimate.use.labour:
            found[line.phase] = found.get(line.phase, 0.0) + line.person_hours
    return found
