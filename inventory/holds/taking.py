"""Balloons go out for a job and come back: the ledger has a line, and the job's hold follows it."""

from collections.abc import Callable
from datetime import datetime
from typing import Any

from django.db import transaction

from decor.models import Job
from inventory.holds.proposing import bags_proposed
from inventory.holds.service import hold_follow, items_lock
from inventory.ledger.service import By, bag_lose, bag_lose_taken, bag_return, bag_take
from inventory.models import Bag, Hold, LedgerLine
from inventory.models.hold import OPEN_STATES


def balloons_take(
    *, bag: Bag, quantity: int, job: Job, by: By, now: datetime, why: str = ""
) -> LedgerLine:
    return _moved(bag_take, bag=bag, quantity=quantity, job=job, by=by, now=now, why=why)


def balloons_return(
    *, bag: Bag, quantity: int, job: Job, by: By, now: datetime, why: str = ""
) -> LedgerLine:
    return _moved(bag_return, bag=bag, quantity=quantity, job=job, by=by, now=now, why=why)


def balloons_lose(
    *, bag: Bag, quantity: int, reason: str, job: Job, by: By, now: datetime, why: str = ""
) -> LedgerLine:
    """Straight out of the bag: also that many fewer to take for the job, as spares are held."""
    return _moved(
        bag_lose, bag=bag, quantity=quantity, reason=reason, job=job, by=by, now=now, why=why
    )


def balloons_lose_taken(
    *, bag: Bag, quantity: int, reason: str, job: Job, by: By, now: datetime, why: str = ""
) -> LedgerLine:
    """Of those taken before: the job has used them all the same."""
    return _moved(
        bag_lose_taken, bag=bag, quantity=quantity, reason=reason, job=job, by=by, now=now, why=why
    )


@transaction.atomic
def hold_take(*, hold: Hold, by: By, now: datetime) -> int:
    """Takes all that the job has still to come of an item, from the bags that are proposed; says
    how many that were. Fewer, where the bags do not hold as many."""
    items_lock([hold.item_id])
    hold.refresh_from_db()
    if hold.state not in OPEN_STATES:
        return 0
    proposals = bags_proposed(Bag.objects.filter(item=hold.item_id), hold.quantity - hold.taken)
    for proposal in proposals:
        balloons_take(bag=proposal.bag, quantity=proposal.quantity, job=hold.job, by=by, now=now)
    return sum(proposal.quantity for proposal in proposals)


@transaction.atomic
def _moved(write: Callable[..., LedgerLine], *, bag: Bag, job: Job, **said: Any) -> LedgerLine:
    items_lock([bag.item_id])
    line = write(bag=bag, job=job, **said)
    hold_follow(job=job, item=bag.item_id)
    return line
