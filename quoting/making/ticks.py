"""Counts from the bench, taken once however often they are sent, in whatever order they come.

Nothing that was counted is refused for want of stock: hands have made it. Stock follows
(making/bags.py), and what the shelf lacks is said.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db import transaction
from django.db.models import Sum

from decor.jobs.facts import fact_moves
from decor.jobs.stages import MoveRefused
from decor.models import Job
from decor.models.job import Stage
from inventory.holds.service import items_lock
from inventory.ledger.service import By
from quoting.making.bags import items_of, shelf_follow
from quoting.making.keys import ItemKey, balloons_by_item, items_in, step_key
from quoting.making.packed import packed_follow
from quoting.making.plan import Plan, plan_for
from quoting.making.popping import burst_take
from quoting.making.told import Counted, NotRead, burst_from, counted_from, worked_from
from quoting.making.working import clock_take
from quoting.models import Tick

EVERYTHING_MADE = "Everything on the making sheet is made and packed"
IS_MADE = "Everything is made and packed: the job is made."


@dataclass(frozen=True, kw_only=True)
class Refused:
    key: str
    why: str


@dataclass(frozen=True, kw_only=True)
class Taken:
    """`taken` are the keys that need not be sent again, old ones among them."""

    taken: tuple[str, ...]
    refused: tuple[Refused, ...]
    said: tuple[str, ...]
    is_made: bool


@dataclass(frozen=True, kw_only=True)
class Told:
    """All that a phone sends at once."""

    ticks: tuple[Mapping[str, Any], ...] = ()
    popped: tuple[Mapping[str, Any], ...] = ()
    work: tuple[Mapping[str, Any], ...] = ()


def ticks_take(*, job: Job, ticks: Iterable[Mapping[str, Any]], by: By, now: datetime) -> Taken:
    return told_take(job=job, told=Told(ticks=tuple(ticks)), by=by, now=now)


def told_take(*, job: Job, told: Told, by: By, now: datetime) -> Taken:
    refused: list[Refused] = []
    counted = _read(told.ticks, counted_from, refused, now=now)
    bursts = _read(told.popped, burst_from, refused, now=now)
    worked = _read(told.work, worked_from, refused, now=now)
    plan = plan_for(job)
    with transaction.atomic():
        Job.objects.select_for_update(no_key=True).get(pk=job.pk)
        _keep(job, counted, by=by, now=now)
        counts = counts_of(job)
        # All at once and by number, so that two sheets never wait for each other.
        steps = [*counts, *(each.step for each in bursts)]
        items_lock([item.pk for item in items_of(items_in(steps)).values()])
        said = [line for each in bursts for line in burst_take(job=job, burst=each, by=by, now=now)]
        for each in worked:
            clock_take(job=job, worked=each, by=by)
        said += shelf_follow(
            job=job,
            inflated=balloons_by_item(counts),
            planned=plan.balloons,
            shown=_shown(counted),
            by=by,
            now=now,
        )
        packed_follow(job=job, counts=counts, plan=plan, by=by, now=now)
        is_made, words = _made(job, plan, counts, by=by, now=now)
    keys = [str(each.key) for each in (*counted, *bursts, *worked)]
    return Taken(
        taken=tuple(keys),
        refused=tuple(refused),
        said=tuple(dict.fromkeys([*said, *words])),
        is_made=is_made,
    )


def counts_of(job: Job) -> dict[str, int]:
    """By step. Below none where what was undone came before what was done."""
    sums = Tick.objects.filter(job=job).order_by().values_list("step").annotate(Sum("quantity"))
    return dict(sums)


def _read(told: Iterable[Any], read: Any, refused: list[Refused], *, now: datetime) -> list[Any]:
    found = []
    for each in told:
        if not isinstance(each, Mapping):
            continue
        try:
            found.append(read(each, now=now))
        except NotRead as problem:
            refused.append(Refused(key=str(each.get("key", "")), why=str(problem)))
    return found


def _keep(job: Job, counted: Iterable[Counted], *, by: By, now: datetime) -> None:
    Tick.objects.bulk_create(
        [
            Tick(
                key=each.key,
                job=job,
                step=each.step,
                quantity=each.quantity,
                made_at=each.at,
                received_at=now,
                by=by,
            )
            for each in counted
        ],
        ignore_conflicts=True,
    )


def _shown(counted: Iterable[Counted]) -> dict[ItemKey, int]:
    found = {}
    for each in counted:
        key = step_key(each.step)
        if each.bag and key and key.item:
            found.setdefault(key.item, each.bag)
    return found


def _made(
    job: Job, plan: Plan, counts: Mapping[str, int], *, by: By, now: datetime
) -> tuple[bool, list[str]]:
    """A job that is not promised is moved by nothing that is made."""
    if not plan.is_made(counts):
        return False, []
    stage = Job.objects.values_list("stage", flat=True).get(pk=job.pk)
    if stage != Stage.PROMISED:
        return True, []
    try:
        fact_moves(job=job, to=Stage.MADE, why=EVERYTHING_MADE, by=by, now=now)
    except MoveRefused as refused:
        return True, [str(refused)]
    return True, [IS_MADE]
