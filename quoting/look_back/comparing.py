"""Planned against real: by phase, by item, and the money of it."""

from dataclasses import dataclass
from decimal import Decimal

from decor.models import Job
from inventory.models import Item
from quoting.estimator.money import round_cents, share_bp
from quoting.estimator.rates import PHASES
from quoting.look_back.actual import Actual, BagUse, actual_of
from quoting.look_back.planned import Planned, PlannedItem, planned_of
from quoting.making.bags import items_of

WHOLE_BP = 10_000
LABELS = {
    "materials": "Balloons",
    "labour": "Work",
    "mending": "Work on revisits",
    "sundries": "Bands, ribbon, bags",
    "kit": "Kit",
    "travel": "Way there and back",
    "overhead": "Overhead",
}


@dataclass(frozen=True, kw_only=True)
class PhaseRow:
    """Hours of persons. `real` None: nobody timed it, so its wages count as planned."""

    phase: str
    planned: float
    real: float | None
    planned_cents: int
    real_cents: int

    @property
    def ratio(self) -> float | None:
        if self.real is None or not self.planned:
            return None
        return self.real / self.planned


@dataclass(frozen=True, kw_only=True)
class ItemRow:
    item: Item
    planned: PlannedItem
    used: int
    lost: int
    bags: tuple[BagUse, ...]

    @property
    def more(self) -> int:
        """Than was planned with its spares; below zero where it was less."""
        return self.used - self.planned.total


@dataclass(frozen=True, kw_only=True)
class MoneyRow:
    """`is_real` False: nothing tells what it really was, so it stands as planned."""

    label: str
    planned_cents: int
    real_cents: int
    is_real: bool = True


@dataclass(frozen=True, kw_only=True)
class Compared:
    """`net_cents` is the price before tax that was agreed; margins are of it."""

    planned: Planned
    actual: Actual
    phases: tuple[PhaseRow, ...]
    items: tuple[ItemRow, ...]
    money: tuple[MoneyRow, ...]

    @property
    def net_cents(self) -> int:
        return self.planned.net_cents

    @property
    def planned_cents(self) -> int:
        return sum(row.planned_cents for row in self.money)

    @property
    def real_cents(self) -> int:
        return sum(row.real_cents for row in self.money)

    @property
    def planned_margin_bp(self) -> int:
        return _margin_bp(self.net_cents, self.planned_cents)

    @property
    def real_margin_bp(self) -> int:
        return _margin_bp(self.net_cents, self.real_cents)

    @property
    def planned_hours(self) -> float:
        return sum(row.planned for row in self.phases)

    @property
    def real_hours(self) -> float:
        """Of what was timed."""
        return sum(row.real or 0.0 for row in self.phases)

    @property
    def mending_hours(self) -> float:
        """Of revisits, which were not planned."""
        return sum(self.actual.mending_hours.values())

    @property
    def is_all_timed(self) -> bool:
        return all(row.real is not None for row in self.phases)


def compare(job: Job) -> Compared | None:
    """None where nothing was planned."""
    planned = planned_of(job)
    if planned is None:
        return None
    actual = actual_of(job)
    phases = tuple(_phases(planned, actual))
    items = tuple(_items(planned, actual))
    return Compared(
        planned=planned,
        actual=actual,
        phases=phases,
        items=items,
        money=tuple(_money(planned, actual, phases)),
    )


def _phases(planned: Planned, actual: Actual) -> list[PhaseRow]:
    """In the order of the work; also those that were not planned and took time."""
    return [
        _phase(phase, planned, actual)
        for phase in PHASES
        if phase in planned.hours or phase in actual.hours
    ]


def _phase(phase: str, planned: Planned, actual: Actual) -> PhaseRow:
    before, real = planned.hours.get(phase, 0.0), actual.hours.get(phase)
    rate = planned.rates.labour_rate(phase)
    return PhaseRow(
        phase=phase,
        planned=before,
        real=real,
        planned_cents=_wages(before, rate),
        real_cents=_wages(before if real is None else real, rate),
    )


def _wages(hours: float, rate_cents: int) -> int:
    return round_cents(Decimal(str(hours)) * rate_cents)


def _items(planned: Planned, actual: Actual) -> list[ItemRow]:
    known = items_of(planned.items)
    by_pk = {item.pk: planned.items[key] for key, item in known.items()}
    items = {item.pk: item for item in known.values()}
    items |= {pk: use.item for pk, use in actual.items.items()}
    rows = [
        ItemRow(
            item=item,
            planned=by_pk.get(pk, PlannedItem()),
            used=actual.items[pk].used if pk in actual.items else 0,
            lost=actual.items[pk].lost if pk in actual.items else 0,
            bags=actual.items[pk].bags if pk in actual.items else (),
        )
        for pk, item in items.items()
    ]
    return sorted(rows, key=lambda row: (-row.planned.total, str(row.item)))


def _money(planned: Planned, actual: Actual, phases: tuple[PhaseRow, ...]) -> list[MoneyRow]:
    """Overhead is the same share of what it really cost. The lines of work add up by phase."""
    kinds = planned.cost_by_kind
    has_used = bool(actual.items)
    materials = actual.materials_cents if has_used else kinds.get("materials", 0)
    rows = [
        MoneyRow(
            label=LABELS["materials"],
            planned_cents=kinds.get("materials", 0),
            real_cents=materials,
            is_real=has_used,
        ),
        MoneyRow(
            label=LABELS["labour"],
            planned_cents=sum(row.planned_cents for row in phases),
            real_cents=sum(row.real_cents for row in phases),
            is_real=any(row.real is not None for row in phases),
        ),
        *_mending(planned, actual),
        *(
            MoneyRow(
                label=LABELS[kind],
                planned_cents=kinds[kind],
                real_cents=kinds[kind],
                is_real=False,
            )
            for kind in ("sundries", "kit", "travel")
            if kinds.get(kind)
        ),
    ]
    direct = sum(row.real_cents for row in rows)
    before = sum(row.planned_cents for row in rows)
    overhead = planned.rates.overhead_bp
    if overhead:
        rows.append(
            MoneyRow(
                label=LABELS["overhead"],
                planned_cents=share_bp(before, overhead),
                real_cents=share_bp(direct, overhead),
            )
        )
    return rows


def _mending(planned: Planned, actual: Actual) -> list[MoneyRow]:
    wages = sum(
        _wages(hours, planned.rates.labour_rate(phase))
        for phase, hours in actual.mending_hours.items()
    )
    return [MoneyRow(label=LABELS["mending"], planned_cents=0, real_cents=wages)] if wages else []


def _margin_bp(net_cents: int, cost_cents: int) -> int:
    if not net_cents:
        return 0
    return round_cents(Decimal(net_cents - cost_cents) * WHOLE_BP / net_cents)
