"""Stands, frames, pumps and ladders: what there is, and which job has them when."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from django.db import transaction
from django.db.models import QuerySet

from decor.display import date_text
from decor.models import Job
from decor.payments.account import deposit_is_in
from inventory.kit.overlaps import Out, most_out
from inventory.models import Hold, Kit, KitHold
from inventory.models.hold import OPEN_STATES, HoldState

TOO_FEW = "{free} of {count} are free from {from_on} to {until_on}, resting days included."
PUT_AWAY = "Kit that is archived cannot be promised."
FEWER_THAN_OUT = "{most} are promised at once already: it cannot be fewer than that."


class KitRefused(Exception):
    """The message is for the owner to read."""


@dataclass(frozen=True, kw_only=True)
class KitFree:
    kit: Kit
    out: int

    @property
    def free(self) -> int:
        return self.kit.count - self.out


def kit_free(
    *, from_on: date, until_on: date, but_for: Job | None = None, kits: Sequence[Kit] | None = None
) -> list[KitFree]:
    """Of `kits`, or else of every kit that is not archived. Two queries, whatever there is."""
    kits = list(Kit.objects.filter(archived_at=None)) if kits is None else kits
    outs = _outs(kits, but_for=but_for)
    return [_free(kit, outs[kit.pk], from_on=from_on, until_on=until_on) for kit in kits]


def kit_holders(
    *, kits: Iterable[Kit], from_on: date, until_on: date, but_for: Job | None = None
) -> list[Job]:
    """The jobs that have it in these days, or for which it rests after them or before."""
    holds = KitHold.objects.filter(kit__in=kits, state__in=OPEN_STATES).exclude(job=but_for)
    found = []
    for hold in holds.select_related("job", "kit"):
        rest = timedelta(days=hold.kit.turnaround_days)
        if hold.from_on <= until_on + rest and from_on <= hold.until_on + rest:
            found.append(hold.job)
    return found


@transaction.atomic
def kit_hold(
    *, job: Job, kit: Kit, quantity: int, from_on: date, until_on: date, now: datetime
) -> KitHold:
    """What the job has of this kit from now on; raises KitRefused where others have it then."""
    _lock_job_then_kit(job, kit)
    kit = Kit.objects.get(pk=kit.pk)
    if kit.archived_at:
        raise KitRefused(PUT_AWAY)
    _refuse_too_many(job=job, kit=kit, quantity=quantity, from_on=from_on, until_on=until_on)
    hold = kit_holds_open(job).filter(kit=kit).first()
    hold = hold or KitHold(job=job, kit=kit, placed_at=now, state=_state_of(job))
    hold.quantity, hold.from_on, hold.until_on = quantity, from_on, until_on
    hold.full_clean()
    hold.save()
    return hold


def kit_give_back(*, hold: KitHold, now: datetime) -> None:
    _released(KitHold.objects.filter(pk=hold.pk, state__in=OPEN_STATES), now)


def kit_release(*, job: Job, now: datetime) -> None:
    _released(kit_holds_open(job), now)


def kit_holds_open(job: Job) -> QuerySet[KitHold]:
    return KitHold.objects.filter(job=job, state__in=OPEN_STATES).select_related("kit")


@transaction.atomic
def kit_save(*, kit: Kit, today: date) -> Kit:
    """New or changed. There cannot be fewer of it than are promised at once from today on."""
    if kit.pk:
        Kit.objects.select_for_update(no_key=True).get(pk=kit.pk)
        outs = [out for out in _outs([kit])[kit.pk] if out.until_on >= today]
        most = max((_most(outs, kit, out.from_on, out.from_on) for out in outs), default=0)
        if kit.count < most:
            raise KitRefused(FEWER_THAN_OUT.format(most=most))
    kit.full_clean()
    kit.save()
    return kit


def kit_archive(*, kit: Kit, now: datetime) -> None:
    Kit.objects.filter(pk=kit.pk, archived_at=None).update(archived_at=now)


def kit_bring_back(*, kit: Kit) -> None:
    Kit.objects.filter(pk=kit.pk).update(archived_at=None)


def _lock_job_then_kit(job: Job, kit: Kit) -> None:
    Job.objects.select_for_update(no_key=True).get(pk=job.pk)
    Kit.objects.select_for_update(no_key=True).get(pk=kit.pk)


def _refuse_too_many(*, job: Job, kit: Kit, quantity: int, from_on: date, until_on: date) -> None:
    outs = _outs([kit], but_for=job)[kit.pk]
    free = _free(kit, outs, from_on=from_on, until_on=until_on).free
    if quantity <= free:
        return
    said = {"from_on": date_text(from_on), "until_on": date_text(until_on)}
    raise KitRefused(TOO_FEW.format(free=max(0, free), count=kit.count, **said))


def _outs(kits: Iterable[Kit], but_for: Job | None = None) -> dict[int, list[Out]]:
    holds = KitHold.objects.filter(kit__in=kits, state__in=OPEN_STATES).exclude(job=but_for)
    found: dict[int, list[Out]] = defaultdict(list)
    for kit, quantity, from_on, until_on in holds.values_list(
        "kit", "quantity", "from_on", "until_on"
    ):
        found[kit].append(Out(quantity=quantity, from_on=from_on, until_on=until_on))
    return found


def _free(kit: Kit, outs: Iterable[Out], *, from_on: date, until_on: date) -> KitFree:
    return KitFree(kit=kit, out=_most(outs, kit, from_on, until_on))


def _most(outs: Iterable[Out], kit: Kit, from_on: date, until_on: date) -> int:
    return most_out(outs, from_on=from_on, until_on=until_on, turnaround_days=kit.turnaround_days)


def _state_of(job: Job) -> HoldState:
    is_firm = Hold.objects.filter(job=job, state=HoldState.FIRM).exists() or deposit_is_in(job)
    return HoldState.FIRM if is_firm else HoldState.SOFT


def _released(holds: QuerySet[KitHold], now: datetime) -> None:
    holds.update(state=HoldState.RELEASED, released_at=now)
