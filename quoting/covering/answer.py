"""Can I take this job? What a quote takes of the shelf, against what is free for its making day."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from enum import StrEnum

from decor.models import Job
from inventory.free.balance import Free, short_by
from inventory.free.service import free_on
from inventory.holds.days import making_on
from inventory.holds.needs import need_arrives_on, quickest_suppliers
from inventory.holds.service import used_for
from inventory.models import Bag, Item, Need, OrderLine, Supplier
from inventory.models.item import Kind
from inventory.models.order import OrderState
from quoting.covering.demand import Demand, quote_demand
from quoting.covering.kit import kit_notes
from quoting.covering.substitutes import Substitute, substitutes_for
from quoting.models import Piece
from quoting.quotes.pricing import PricedQuote

NO_DAY = "The job has no date yet, so nobody can say what is free for it."
DAY_HAS_GONE = "The day of this job has gone."
NOTHING_ON_IT = "There is no piece on this quote yet, so it takes nothing of the shelf."


class Cover(StrEnum):
    COVERED = "covered"
    IF_THESE_ARRIVE = "covered if these arrive"
    SHORT = "short"


@dataclass(frozen=True, kw_only=True)
class Purchase:
    """How what is missing could come. Without a supplier the day is the owner's own word."""

    supplier: Supplier | None
    arrives_on: date
    is_in_time: bool
    is_acknowledged: bool = False


@dataclass(frozen=True, kw_only=True)
class CoverLine:
    """`wanted` is what the job still takes."""

    item: Item
    wanted: int
    free: Free
    short: int
    pieces: tuple[Piece, ...]
    arrivals: tuple[OrderLine, ...] = ()
    substitutes: tuple[Substitute, ...] = ()
    purchase: Purchase | None = None

    @property
    def cover(self) -> Cover:
        if self.short:
            return Cover.SHORT
        return Cover.IF_THESE_ARRIVE if self.arrivals else Cover.COVERED

    @property
    def can_be_had(self) -> int:
        """What is free of it, never below nothing: what others are short of is not said here."""
        return max(0, self.free.promisable)

    @property
    def is_acknowledged(self) -> bool:
        return self.purchase is not None and self.purchase.is_acknowledged

    @property
    def is_settled(self) -> bool:
        """Enough is free, or it is on the buy list and can be here in time."""
        return not self.short or (self.is_acknowledged and self.purchase.is_in_time)


@dataclass(frozen=True, kw_only=True)
class Answer:
    """`problem` says why there is none; the rest is empty then.

    `kit_notes` say which kit that the job has or wants is not to be had for it.
    """

    job: Job
    problem: str = ""
    needed_on: date | None = None
    demand: Demand | None = None
    lines: tuple[CoverLine, ...] = ()
    kit_notes: tuple[str, ...] = ()
    is_shelf_empty: bool = False

    @property
    def cover(self) -> Cover:
        covers = {line.cover for line in self.lines}
        return next((c for c in (Cover.SHORT, Cover.IF_THESE_ARRIVE) if c in covers), Cover.COVERED)

    def _lines(self, cover: Cover) -> tuple[CoverLine, ...]:
        return tuple(line for line in self.lines if line.cover == cover)

    @property
    def short(self) -> tuple[CoverLine, ...]:
        return self._lines(Cover.SHORT)

    @property
    def arriving(self) -> tuple[CoverLine, ...]:
        return self._lines(Cover.IF_THESE_ARRIVE)

    @property
    def covered(self) -> tuple[CoverLine, ...]:
        return self._lines(Cover.COVERED)

    @property
    def unacknowledged(self) -> tuple[CoverLine, ...]:
        return tuple(line for line in self.short if not line.is_acknowledged)

    @property
    def too_late(self) -> tuple[CoverLine, ...]:
        """On the buy list, but they cannot be here in time."""
        return tuple(line for line in self.short if line.is_acknowledged and not line.is_settled)

    @property
    def can_promise(self) -> bool:
        if self.problem or self.demand.unknown_pieces:
            return False
        return all(line.is_settled for line in self.lines)

    @property
    def last_day_to_come(self) -> date:
        """What arrives on the making day itself may arrive too late for it."""
        return self.needed_on - timedelta(days=1)


def can_take(priced: PricedQuote, *, today: date) -> Answer:
    answer = can_take_all(priced.quote.job, quote_demand(priced), today=today)
    specs = [piece.estimate.spec for piece in priced.pieces if piece.estimate]
    return replace(answer, kit_notes=() if answer.problem else kit_notes(answer.job, specs))


def can_take_all(job: Job, demand: Demand, *, today: date) -> Answer:
    if job.event_on is None:
        return Answer(job=job, problem=NO_DAY)
    if job.event_on < today:
        return Answer(job=job, problem=DAY_HAS_GONE)
    if demand.is_empty:
        return Answer(job=job, problem=NOTHING_ON_IT)
    needed_on = making_on(job.event_on, today=today)
    lines = _lines(job, demand, needed_on, today)
    return Answer(
        job=job,
        needed_on=needed_on,
        demand=demand,
        lines=lines,
        is_shelf_empty=any(line.short for line in lines) and not Bag.objects.exists(),
    )


def _lines(job: Job, demand: Demand, needed_on: date, today: date) -> tuple[CoverLine, ...]:
    free = free_on(on=needed_on, today=today, but_for=job)
    used = used_for(job)
    wanted = {pk: max(0, q - used.get(pk, 0)) for pk, q in demand.quantities.items()}
    short = {pk: missing for pk, q in wanted.items() if (missing := short_by(q, free[pk]))}
    waits = [pk for pk, q in wanted.items() if pk not in short and q > free[pk].promisable_now]
    purchases = _purchases(job, demand, short, needed_on, today)
    arrivals = _arrivals(waits, needed_on)
    offered = _balloons() if short else {}
    lines = (
        CoverLine(
            item=item,
            wanted=wanted[pk],
            free=free[pk],
            short=short.get(pk, 0),
            pieces=demand.pieces[pk],
            arrivals=arrivals.get(pk, ()),
            purchase=purchases.get(pk),
            substitutes=substitutes_for(
                item,
                wanted=wanted[pk],
                short=short[pk],
                candidates=offered,
                free=free,
                asked=demand.quantities,
            )
            if pk in short
            else (),
        )
        for pk, item in demand.items.items()
    )
    return tuple(sorted(lines, key=lambda line: (-line.short, not line.arrivals, str(line.item))))


def _balloons() -> dict[int, Item]:
    items = Item.objects.exclude(kind=Kind.SUNDRY).select_related("colour")
    return {item.pk: item for item in items}


def _arrivals(items: Iterable[int], before: date) -> dict[int, tuple[OrderLine, ...]]:
    lines = OrderLine.objects.filter(
        item__in=items, order__state=OrderState.ORDERED, order__expected_on__lt=before
    ).select_related("order__supplier")
    found: dict[int, tuple[OrderLine, ...]] = {}
    for line in lines.order_by("order__expected_on", "pk"):
        if line.received_bags < line.bags:
            found[line.item_id] = (*found.get(line.item_id, ()), line)
    return found


def _purchases(
    job: Job, demand: Demand, short: Mapping[int, int], needed_on: date, today: date
) -> dict[int, Purchase]:
    """What is on the buy list for this quote as it stands, else the quickest way to buy it."""
    could_come = {
        pk: _could_come(supplier, needed_on, today)
        for pk, supplier in quickest_suppliers(short).items()
    }
    needs = {need.item_id: need for need in _needs(job, short)}
    return could_come | {
        pk: _acknowledged(need, could_come.get(pk), needed_on, today)
        for pk, need in needs.items()
        if need.quantity >= demand.quantities[pk] and need.needed_on <= needed_on
    }


def _needs(job: Job, items: Mapping[int, int]) -> Iterable[Need]:
    return job.needs.filter(item__in=items).select_related("supplier")


def _acknowledged(
    need: Need, could_come: Purchase | None, needed_on: date, today: date
) -> Purchase:
    """Of a supplier who is quicker by now it may be bought too; her own word stands."""
    arrives_on = need_arrives_on(need, today=today)
    if need.supplier and could_come and could_come.arrives_on < arrives_on:
        return replace(could_come, is_acknowledged=True)
    return Purchase(
        supplier=need.supplier,
        arrives_on=arrives_on,
        is_in_time=arrives_on < needed_on,
        is_acknowledged=True,
    )


def _could_come(supplier: Supplier, needed_on: date, today: date) -> Purchase:
    arrives_on = today + timedelta(days=supplier.lead_days)
    return Purchase(supplier=supplier, arrives_on=arrives_on, is_in_time=arrives_on < needed_on)
