"""What a job really took: from the ledger of the shelf, and from clocks and typed hours."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from decor.models import Job
from decor.models.visit import VisitKind
from inventory.models import Item, LedgerLine
from inventory.models.item import Kind
from inventory.models.ledger import LineKind, LossReason
from quoting.estimator.money import round_cents
from quoting.models import WorkTime

OUT = (LineKind.TAKEN, LineKind.RETURNED, LineKind.LOST)


@dataclass(frozen=True, kw_only=True)
class BagUse:
    """`used` are gone for the job, the `lost` ones among them."""

    bag: str
    place: str
    used: int
    lost: int
    reasons: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class ItemUse:
    item: Item
    used: int
    lost: int
    cents: Decimal
    bags: tuple[BagUse, ...]


@dataclass(frozen=True, kw_only=True)
class Actual:
    """`hours` are of persons, by phase; a phase that nobody timed is not in it. Those of revisits
    are apart: mending after wind was never planned, and says nothing of hanging."""

    items: Mapping[int, ItemUse]
    hours: Mapping[str, float]
    mending_hours: Mapping[str, float]

    @property
    def materials_cents(self) -> int:
        """Every bag at what was paid for it, rounded once."""
        balloons = [use for use in self.items.values() if use.item.kind != Kind.SUNDRY]
        return round_cents(sum((use.cents for use in balloons), Decimal(0)))


def actual_of(job: Job) -> Actual:
    """Two queries."""
    times = list(job.work_times.exclude(minutes=None).select_related("visit"))
    lines = LedgerLine.objects.filter(job=job, kind__in=OUT).order_by("pk")
    by_item: dict[int, list[LedgerLine]] = defaultdict(list)
    for line in lines.select_related("bag__item__colour"):
        by_item[line.bag.item_id].append(line)
    return Actual(
        items={pk: _item_use(each) for pk, each in by_item.items()},
        hours=_hours(work for work in times if not _is_mending(work)),
        mending_hours=_hours(work for work in times if _is_mending(work)),
    )


def _item_use(lines: list[LedgerLine]) -> ItemUse:
    by_bag: dict[int, list[LedgerLine]] = defaultdict(list)
    for line in lines:
        by_bag[line.bag_id].append(line)
    cents = sum(
        (Decimal(_used(each) * each[0].bag.cost_cents) / each[0].bag.printed_count)
        for each in by_bag.values()
    )
    return ItemUse(
        item=lines[0].bag.item,
        used=_used(lines),
        lost=_lost(lines),
        cents=Decimal(cents),
        bags=tuple(_bag_use(each) for each in by_bag.values()),
    )


def _bag_use(lines: list[LedgerLine]) -> BagUse:
    bag = lines[0].bag
    said = [LossReason(line.reason).label.lower() for line in lines if line.reason]
    return BagUse(
        bag=f"lot {bag.lot}" if bag.lot else f"bag {bag.tag}",
        place=bag.place,
        used=_used(lines),
        lost=_lost(lines),
        reasons=tuple(dict.fromkeys(said)),
    )


def _used(lines: list[LedgerLine]) -> int:
    return -sum(line.quantity for line in lines)


def _lost(lines: list[LedgerLine]) -> int:
    return -sum(line.quantity for line in lines if line.kind == LineKind.LOST)


def _is_mending(work: WorkTime) -> bool:
    return work.visit is not None and work.visit.kind == VisitKind.REVISIT


def _hours(times: Iterable[WorkTime]) -> dict[str, float]:
    minutes: dict[str, int] = defaultdict(int)
    for work in times:
        minutes[work.phase] += work.person_minutes
    return {phase: total / 60 for phase, total in minutes.items()}
