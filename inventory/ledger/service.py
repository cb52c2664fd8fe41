"""Everything that can happen to a bag. Each is written as lines of the ledger and never undone:
what was wrong is put right by another line.

Each function locks its bag, checks, and writes. A caller that also holds items locks those first.
"""

from collections.abc import Iterable
from datetime import datetime

from django.contrib.auth.models import AbstractBaseUser
from django.db import transaction
from django.db.models import Sum

from decor.models import Job
from inventory.models import Bag, LedgerLine
from inventory.models.ledger import LineKind

NONE_AT_ALL = "How many? One at least."
TOO_FEW_LEFT = "There are only {left} left in this bag."
NONE_LEFT = "This bag is empty."
OPEN_ALREADY = "This bag is open already."
ABOVE_PRINTED = "This bag held {printed} when it was new: {counted} cannot be in it."
BELOW_NONE = "Fewer than none cannot be in a bag."
SAY_WHY = "Say why, so that it can be understood later."
SAY_WHAT_FOR = "Say for which job, or why."
LOST_NOT_BACK = "lost, not put back"
NOT_TAKEN = "No more than {taken} of this bag are out {where}."

By = AbstractBaseUser | None


class BagRefused(Exception):
    """What was asked of a bag cannot be; the message says it to the owner."""


@transaction.atomic
def bags_receive(*, bags: Iterable[Bag], by: By, now: datetime) -> list[Bag]:
    """Puts unsaved bags on the shelf, full as printed."""
    received = Bag.objects.bulk_create(bags)
    LedgerLine.objects.bulk_create(
        LedgerLine(bag=bag, kind=LineKind.RECEIVED, quantity=bag.printed_count, by=by, at=now)
        for bag in received
    )
    for bag in received:
        bag.left = bag.printed_count  # as the database has just set it
    return received


def bag_receive(*, bag: Bag, by: By, now: datetime) -> Bag:
    return bags_receive(bags=[bag], by=by, now=now)[0]


@transaction.atomic
def bag_open(*, bag: Bag, by: By, now: datetime) -> LedgerLine:
    if _locked(bag).is_open:
        raise BagRefused(OPEN_ALREADY)
    return _write(bag, LineKind.OPENED, 0, by=by, at=now)


@transaction.atomic
def bag_take(
    *, bag: Bag, quantity: int, job: Job | None, by: By, now: datetime, why: str = ""
) -> LedgerLine:
    """A sealed bag is opened by it."""
    current = _locked(bag)
    _check_left(current, quantity)
    if job is None and not why:
        raise BagRefused(SAY_WHAT_FOR)
    _open_if_sealed(current, by=by, now=now)
    return _write(bag, LineKind.TAKEN, -quantity, job=job, why=why, by=by, at=now)


@transaction.atomic
def bag_return(
    *, bag: Bag, quantity: int, job: Job | None, by: By, now: datetime, why: str = ""
) -> LedgerLine:
    """No more comes back from a job than was taken for it out of this bag."""
    _locked(bag)
    if job is None and not why:
        raise BagRefused(SAY_WHAT_FOR)
    _check_out(bag, quantity, job)
    return _write(bag, LineKind.RETURNED, quantity, job=job, why=why, by=by, at=now)


@transaction.atomic
def bag_lose(
    *,
    bag: Bag,
    quantity: int,
    reason: str,
    job: Job | None,
    by: By,
    now: datetime,
    why: str = "",
) -> LedgerLine:
    """Lost after inflating, straight out of the bag. A sealed bag is opened by it."""
    current = _locked(bag)
    _check_left(current, quantity)
    _open_if_sealed(current, by=by, now=now)
    return _write(bag, LineKind.LOST, -quantity, reason=reason, job=job, why=why, by=by, at=now)


@transaction.atomic
def bag_lose_taken(
    *,
    bag: Bag,
    quantity: int,
    reason: str,
    job: Job | None,
    by: By,
    now: datetime,
    why: str = "",
) -> LedgerLine:
    """Lost after inflating, of those taken before: they are no longer used, so the bag keeps
    what it has, and the job may take as many again."""
    _locked(bag)
    _check_out(bag, quantity, job)
    back = why or LOST_NOT_BACK
    _write(bag, LineKind.RETURNED, quantity, job=job, why=back, by=by, at=now)
    return _write(bag, LineKind.LOST, -quantity, reason=reason, job=job, why=why, by=by, at=now)


@transaction.atomic
def bag_count(
    *,
    bag: Bag,
    counted: int,
    by: By,
    now: datetime,
    why: str = "",
    left_then: int | None = None,
) -> LedgerLine:
    """Sets right what is left. `left_then`: what the ledger said when it was counted, if the
    count is written down later; what happened since still stands."""
    current = _locked(bag)
    difference = counted - (current.left if left_then is None else left_then)
    _check_counted(current, counted)
    _check_counted(current, current.left + difference)
    if difference and not why:
        raise BagRefused(SAY_WHY)
    return _write(bag, LineKind.COUNTED, difference, why=why, by=by, at=now)


@transaction.atomic
def bag_throw_away(
    *, bag: Bag, why: str, by: By, now: datetime, quantity: int | None = None
) -> LedgerLine:
    """All that is left, where no quantity is given."""
    current = _locked(bag)
    gone = current.left if quantity is None else quantity
    _check_left(current, gone)
    if not why:
        raise BagRefused(SAY_WHY)
    return _write(bag, LineKind.THROWN_AWAY, -gone, why=why, by=by, at=now)


def taken_out(bag: Bag, job: Job | None) -> int:
    """How many of a bag are out for a job and have not come back."""
    moved = LedgerLine.objects.filter(
        bag=bag, job=job, kind__in=[LineKind.TAKEN, LineKind.RETURNED]
    )
    return -(moved.aggregate(sum=Sum("quantity"))["sum"] or 0)


def _locked(bag: Bag) -> Bag:
    return Bag.objects.select_for_update(no_key=True).get(pk=bag.pk)


def _check_left(bag: Bag, quantity: int) -> None:
    if bag.left == 0:
        raise BagRefused(NONE_LEFT)
    if quantity < 1:
        raise BagRefused(NONE_AT_ALL)
    if quantity > bag.left:
        raise BagRefused(TOO_FEW_LEFT.format(left=bag.left))


def _check_out(bag: Bag, quantity: int, job: Job | None) -> None:
    if quantity < 1:
        raise BagRefused(NONE_AT_ALL)
    taken = taken_out(bag, job)
    if quantity > taken:
        where = f"for {job}" if job else "without a job"
        raise BagRefused(NOT_TAKEN.format(taken=taken, where=where))


def _check_counted(bag: Bag, counted: int) -> None:
    if counted < 0:
        raise BagRefused(BELOW_NONE)
    if counted > bag.printed_count:
        raise BagRefused(ABOVE_PRINTED.format(printed=bag.printed_count, counted=counted))


def _open_if_sealed(bag: Bag, *, by: By, now: datetime) -> None:
    if not bag.is_open:
        _write(bag, LineKind.OPENED, 0, by=by, at=now)


def _write(bag: Bag, kind: LineKind, quantity: int, **said: object) -> LedgerLine:
    line = LedgerLine.objects.create(bag=bag, kind=kind, quantity=quantity, **said)
    bag.refresh_from_db(fields=["left", "is_open"])
    return line
