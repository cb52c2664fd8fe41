"""Stock promised to jobs, so that no two of them are promised the same balloons.

Whoever changes what is free locks the job, then the items in the order of their numbers, then bags
likewise; only then looks and writes. On SQLite every transaction here has the database to itself.
"""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime

from django.db import transaction
from django.db.models import QuerySet, Sum

from decor.models import Job
from decor.payments.account import deposit_is_in
from inventory.free.balance import short_by
from inventory.free.service import free_on
from inventory.models import Hold, Item, KitHold, LedgerLine
from inventory.models.hold import OPEN_STATES, HoldState
from inventory.models.ledger import LineKind

SHORT = "Not enough is free: {missing}."


@dataclass(frozen=True, kw_only=True)
class Shortfall:
    item: Item
    wanted: int
    short: int


class ShelfShort(Exception):
    """There is less free than was asked for. Nothing was held."""

    def __init__(self, lines: Iterable[Shortfall]) -> None:
        self.lines = tuple(lines)
        missing = ", ".join(f"{line.short} more {line.item}" for line in self.lines)
        super().__init__(SHORT.format(missing=missing))


def items_lock(items: Collection[int]) -> dict[int, Item]:
    """Inside a transaction; by number, so that two of us never wait for each other."""
    items = Item.objects.select_related("colour").filter(pk__in=items).order_by("pk")
    return {item.pk: item for item in items.select_for_update(no_key=True, of=("self",))}


@transaction.atomic
def hold_soft(
    *,
    job: Job,
    demand: Mapping[int, int],
    needed_on: date,
    today: date,
    now: datetime,
    source: str = "",
    may_be_short: Collection[int] = (),
) -> list[Hold]:
    """What is held for a job becomes `demand`, by item; raises ShelfShort and holds nothing.

    Of `may_be_short` items more may be promised than there is: they are being bought. What was
    taken for the job already stays counted, and a deposit paid once makes new holds firm too.
    """
    _job_lock(job)
    there = {hold.item_id: hold for hold in holds_open(job)}
    items = items_lock(demand.keys() | there.keys())
    used = used_for(job)
    wanted = {pk: max(quantity, used.get(pk, 0)) for pk, quantity in demand.items() if quantity}
    more = [pk for pk in wanted if _asks_for_more(there.get(pk), wanted[pk], needed_on)]
    free = free_on(on=needed_on, today=today, items=more, but_for=job)
    short = [
        Shortfall(item=items[pk], wanted=wanted[pk], short=missing)
        for pk in more
        if (missing := short_by(wanted[pk] - used.get(pk, 0), free[pk])) and pk not in may_be_short
    ]
    if short:
        raise ShelfShort(short)
    _release(holds_open(job).exclude(item__in=wanted), now)
    is_firm = any(hold.state == HoldState.FIRM for hold in there.values()) or deposit_is_in(job)
    for pk, quantity in wanted.items():
        hold = there.get(pk) or _new_hold(job, items[pk], is_firm=is_firm, now=now)
        hold.quantity, hold.taken = quantity, min(used.get(pk, 0), quantity)
        hold.needed_on, hold.source = needed_on, source
        hold.save()
    return list(holds_open(job))


@transaction.atomic
def hold_firm(*, job: Job, now: datetime) -> int:
    """The deposit has come. How many holds are firm now that were soft before."""
    _job_lock(job)
    KitHold.objects.filter(job=job, state=HoldState.SOFT).update(state=HoldState.FIRM)
    return Hold.objects.filter(job=job, state=HoldState.SOFT).update(
        state=HoldState.FIRM, firmed_at=now
    )


@transaction.atomic
def hold_soften(*, job: Job, firmed_at: datetime) -> int:
    """What became firm at that moment is soft again, and the kit with it: it was a mistake."""
    _job_lock(job)
    firm = Hold.objects.filter(job=job, state=HoldState.FIRM, firmed_at=firmed_at)
    softened = firm.update(state=HoldState.SOFT, firmed_at=None)
    if softened:
        KitHold.objects.filter(job=job, state=HoldState.FIRM).update(state=HoldState.SOFT)
    return softened


@transaction.atomic
def hold_release(*, job: Job, now: datetime) -> int:
    """The balloons that are held for the job are free again. What was taken for it stays taken."""
    _job_lock(job)
    items_lock(list(holds_open(job).values_list("item", flat=True)))
    return _release(holds_open(job), now)


def hold_follow(*, job: Job, item: int) -> None:
    """The hold's `taken` is what the ledger says. The caller has locked the item.

    More than is held may be taken; the hold is used up then, and the shelf says the rest.
    """
    used = used_for(job).get(item, 0)
    for hold in holds_open(job).filter(item=item):
        hold.taken = min(hold.quantity, max(0, used))
        hold.save(update_fields=["taken"])


def holds_open(job: Job) -> QuerySet[Hold]:
    return Hold.objects.filter(job=job, state__in=OPEN_STATES)


def used_for(job: Job) -> dict[int, int]:
    """By item, as the ledger says: taken for the job and not put back, lost ones among them,
    as spares are in what is held."""
    kinds = [LineKind.TAKEN, LineKind.RETURNED, LineKind.LOST]
    lines = LedgerLine.objects.filter(job=job, kind__in=kinds).order_by()
    return {pk: -moved for pk, moved in lines.values_list("bag__item").annotate(Sum("quantity"))}


def _job_lock(job: Job) -> None:
    Job.objects.select_for_update(no_key=True).get(pk=job.pk)


def _asks_for_more(hold: Hold | None, quantity: int, needed_on: date) -> bool:
    """Less of the same, or the same later, takes from nobody, even where the shelf is short."""
    return hold is None or quantity > hold.quantity or needed_on < hold.needed_on


def _new_hold(job: Job, item: Item, *, is_firm: bool, now: datetime) -> Hold:
    state = HoldState.FIRM if is_firm else HoldState.SOFT
    return Hold(job=job, item=item, state=state, placed_at=now, firmed_at=now if is_firm else None)


def _release(holds: QuerySet[Hold], now: datetime) -> int:
    return holds.update(state=HoldState.RELEASED, released_at=now)
