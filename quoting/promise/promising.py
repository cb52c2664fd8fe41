"""An accepted edition becomes a promise: stock, hours, money and stage, all of it or nothing."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from django.contrib.auth.models import User
from django.db import transaction
from django.utils import timezone

from decor.jobs.facts import fact_moves
from decor.jobs.stages import MoveRefused
from decor.models import Business, Job
from decor.models.job import Stage
from decor.payments.service import schedule_set
from quoting.bench.asked import Work
from quoting.covering.kit import kit_notes
from quoting.models import Edition
from quoting.models.client_page import Outcome
from quoting.promise.asked import edition_demand, hours_asked, specs_asked
from quoting.promise.days import days_plan
from quoting.promise.refusal import NotPromised
from quoting.promise.states import dues_source
from quoting.promise.stock import stock_hold, stock_notes
from quoting.quotes.combinations import Combination
from quoting.quotes.payments import dues_of

ANOTHER_DAY = (
    "The job’s day or time is not what edition {number} says. Send the next edition, or set it "
    "back."
)


@dataclass(frozen=True, kw_only=True)
class Promise:
    """`note` is for the owner: what to buy, what was guessed."""

    outcome: Outcome
    note: str


@transaction.atomic
def promise_make(
    *,
    edition: Edition,
    combination: Combination,
    why: str,
    by_client: bool,
    overruled: str = "",
    by: User | None,
    now: datetime,
) -> Promise:
    """Raises NotPromised, and then nothing is held. The caller has locked the job.

    What the owner would have to judge stands in the way of what a client does by themselves.
    """
    job, today = edition.quote.job, timezone.localdate(now)
    _refuse_another_day(edition, job)
    demand = edition_demand(edition, combination.chosen)
    hours = hours_asked(edition, combination.chosen)
    specs = specs_asked(edition, combination.chosen)
    work = Work(job=job, minutes=hours.making_minutes, specs=tuple(specs))
    kit = kit_notes(job, specs)
    if kit and by_client:
        raise NotPromised(" ".join(kit))
    notes = [*kit, *days_plan(work=work, hours=hours, overruled=overruled, now=now)]
    to_buy = stock_hold(
        job=job,
        demand=demand,
        source=edition.quote.number,
        may_buy=by_client,
        by=by,
        now=now,
        today=today,
    )
    dues = dues_of(combination.plan, on=today)
    schedule_set(job=job, dues=dues, source=dues_source(edition), now=now)
    try:
        fact_moves(job=job, to=Stage.PROMISED, why=why, by=by, now=now)
    except MoveRefused as refused:
        raise NotPromised(str(refused)) from refused
    return Promise(
        outcome=Outcome.TO_BUY if to_buy else Outcome.HELD,
        note=" ".join([*stock_notes(demand, to_buy), *notes]),
    )


def _refuse_another_day(edition: Edition, job: Job) -> None:
    """A day that was moved since is not the one that was accepted."""
    offered = edition.inputs["offer"]["job"]
    at = job.event_time.isoformat("minutes") if job.event_time else None
    on = job.event_on.isoformat() if job.event_on else None
    if (offered["event_on"], offered["event_time"]) != (on, at):
        raise NotPromised(ANOTHER_DAY.format(number=edition.number))


@contextmanager
def promise_locked(job: Job) -> Iterator[None]:
    """The job first; then the business, so that of two promises the second sees the first. Days
    and hours inside are those of the business."""
    Job.objects.select_for_update(no_key=True).get(pk=job.pk)
    business = Business.objects.select_for_update(no_key=True).get(pk=Business.THE_ONE)
    with timezone.override(ZoneInfo(business.timezone)):
        yield
