"""What an accepted edition takes of the shelf is held for its job, and bought where need be."""

from datetime import date, datetime

from django.contrib.auth.models import User

from decor.display import date_text
from decor.models import Job
from inventory.holds.service import ShelfShort, hold_soft, holds_open, items_lock
from quoting.covering.answer import NOTHING_ON_IT, Answer, CoverLine, can_take_all
from quoting.covering.demand import Demand
from quoting.covering.promising import rest_to_buy_list
from quoting.promise.refusal import NotPromised

TOO_LATE = "{missing} cannot be here before {day}."
NO_SUPPLIER = "No supplier of yours sells {missing}."
NOT_ON_LIST = "Put what is missing on the buy list first: {missing}."
TO_BUY = "To buy: {missing}."
NO_ITEM = "Not in your catalogue, so not held: {missing}."


def stock_hold(
    *,
    job: Job,
    demand: Demand,
    source: str,
    may_buy: bool,
    by: User | None,
    now: datetime,
    today: date,
) -> tuple[CoverLine, ...]:
    """What has to be bought for it, all of which is on the buy list. Raises NotPromised.

    The items are locked before anybody looks how many are free. With `may_buy` what can come in
    time is put on the buy list here; else the owner must have done it.
    """
    items_lock(demand.quantities.keys() | set(holds_open(job).values_list("item", flat=True)))
    answer = can_take_all(job, demand, today=today)
    if answer.problem == NOTHING_ON_IT:
        return ()
    if answer.problem:
        raise NotPromised(answer.problem)
    _refuse_what_cannot_come(answer, may_buy=may_buy)
    rest_to_buy_list(answer, own_days={}, by=by, now=now)
    try:
        hold_soft(
            job=job,
            demand=demand.quantities,
            needed_on=answer.needed_on,
            today=today,
            now=now,
            source=source,
            may_be_short=[line.item.pk for line in answer.short],
        )
    except ShelfShort as short:
        raise NotPromised(str(short)) from short
    return answer.short


def _refuse_what_cannot_come(answer: Answer, *, may_buy: bool) -> None:
    unknown = [line for line in answer.short if line.purchase is None]
    if unknown and may_buy:
        raise NotPromised(NO_SUPPLIER.format(missing=missing_text(unknown)))
    late = [line for line in answer.short if line.purchase and not line.purchase.is_in_time]
    if late:
        day = date_text(answer.needed_on)
        raise NotPromised(TOO_LATE.format(missing=missing_text(late), day=day))
    if answer.unacknowledged and not may_buy:
        raise NotPromised(NOT_ON_LIST.format(missing=missing_text(answer.unacknowledged)))


def stock_notes(demand: Demand, to_buy: tuple[CoverLine, ...]) -> list[str]:
    """What the owner should know of it."""
    notes = [TO_BUY.format(missing=missing_text(to_buy))] if to_buy else []
    if demand.no_items:
        names = ", ".join(f"{line.quantity} {line.name}" for line in demand.no_items)
        notes.append(NO_ITEM.format(missing=names))
    return notes


def missing_text(lines: tuple[CoverLine, ...] | list[CoverLine]) -> str:
    return ", ".join(f"{line.short} more {line.item}" for line in lines)
