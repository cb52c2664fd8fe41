"""At the place: the client signs for the work, and what a visit takes from the shelf is written."""

from collections.abc import Callable
from datetime import datetime

from django.contrib.auth.models import User
from django.db import transaction
from django.utils import timezone

from decor.calendar.visits import (
    HUNG,
    NOT_UP_YET,
    WAS_CALLED_OFF,
    VisitRefused,
    visit_done,
)
from decor.display import date_text
from decor.jobs.facts import fact_moves
from decor.jobs.photos import photos_add
from decor.jobs.stages import MoveRefused
from decor.models import Visit
from decor.models.job import Stage
from decor.models.visit import VisitKind
from decor.pictures import Picture
from inventory.holds.proposing import bags_proposed
from inventory.holds.service import items_lock
from inventory.holds.taking import balloons_return, balloons_take
from inventory.models import Bag, Item, LedgerLine
from inventory.models.ledger import LineKind
from quoting.models import VisitMaterial, WorkReceipt

SIGNED = "{name} signed for this already, on {day}."
TOO_FEW = "Only {free} {item} are on the shelf, whoever they are held for."
HANGS = "It hangs: {name} signed for it"
HANGS_UNSIGNED = "It hangs"


@transaction.atomic
def work_sign(
    *,
    visit: Visit,
    typed_name: str,
    note: str = "",
    photo: Picture | None = None,
    by: User | None,
    now: datetime,
) -> WorkReceipt:
    """The client's receipt of the work. It is given once, and the visit is done with it."""
    _refuse_what_cannot_be_done(visit)
    signed = WorkReceipt.objects.filter(visit=visit).first()
    if signed:
        day = date_text(timezone.localdate(signed.at))
        raise VisitRefused(SIGNED.format(name=signed.typed_name, day=day))
    kept = photos_add(job=visit.job, pictures=[photo])[0] if photo else None
    receipt = WorkReceipt.objects.create(
        visit=visit,
        typed_name=typed_name,
        note=note,
        photo=kept,
        at=now,
        timezone=timezone.get_current_timezone_name(),
        by=by,
    )
    _finish(visit, hangs=HANGS.format(name=typed_name), by=by, now=now)
    return receipt


@transaction.atomic
def work_finish(*, visit: Visit, by: User | None, now: datetime) -> None:
    """Done with nobody there to sign."""
    _refuse_what_cannot_be_done(visit)
    _finish(visit, hangs=HANGS_UNSIGNED, by=by, now=now)


@transaction.atomic
def materials_take(
    *, visit: Visit, item: Item, quantity: int, by: User | None, now: datetime
) -> list[VisitMaterial]:
    """For a visit of its own, such as to mend: oldest opened bags first. Raises VisitRefused
    where there are not as many, and then nothing was taken."""
    items_lock([item.pk])
    proposed = bags_proposed(Bag.objects.filter(item=item), quantity)
    there = sum(proposal.quantity for proposal in proposed)
    if there < quantity:
        raise VisitRefused(TOO_FEW.format(free=there, item=item))
    return [
        _written(visit, balloons_take, proposal.bag, proposal.quantity, by=by, now=now)
        for proposal in proposed
    ]


@transaction.atomic
def materials_return(*, material: VisitMaterial, by: User | None, now: datetime) -> None:
    """All of one line, as it was not needed. Given back twice, it is given back once."""
    line = material.line
    items_lock([line.bag.item_id])
    given_back = VisitMaterial.objects.filter(
        visit=material.visit, line__bag=line.bag, line__kind=LineKind.RETURNED
    )
    taken = VisitMaterial.objects.filter(
        visit=material.visit, line__bag=line.bag, line__kind=LineKind.TAKEN
    )
    left = -sum(each.line.quantity for each in (*taken.all(), *given_back.all()))
    quantity = min(left, -line.quantity)
    if quantity > 0:
        _written(material.visit, balloons_return, line.bag, quantity, by=by, now=now)


def _written(
    visit: Visit,
    move: Callable[..., LedgerLine],
    bag: Bag,
    quantity: int,
    *,
    by: User | None,
    now: datetime,
) -> VisitMaterial:
    day = date_text(timezone.localdate(visit.starts_at))
    why = f"{visit.get_kind_display()} on {day}"
    line = move(bag=bag, quantity=quantity, job=visit.job, by=by, now=now, why=why)
    return VisitMaterial.objects.create(visit=visit, line=line)


def _refuse_what_cannot_be_done(visit: Visit) -> None:
    Visit.objects.select_for_update(no_key=True).get(pk=visit.pk)
    if visit.called_off_at:
        raise VisitRefused(WAS_CALLED_OFF)
    if visit.kind == VisitKind.STRIKE and visit.job.stage not in HUNG:
        raise VisitRefused(NOT_UP_YET)


def _finish(visit: Visit, *, hangs: str, by: User | None, now: datetime) -> None:
    try:
        if visit.kind == VisitKind.INSTALL:
            fact_moves(job=visit.job, to=Stage.UP, why=hangs, by=by, now=now)
    except MoveRefused as refused:
        raise VisitRefused(str(refused)) from refused
    if visit.done_at is None:
        visit_done(visit=visit, by=by, now=now)
