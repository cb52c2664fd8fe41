"""The demo's shelf: bags of every item, some part-used, one lot old and one lot bad."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Final

from django.contrib.auth.models import User

from decor.models import Job
from inventory.buying.orders import Came, OrderRow, order_place, order_receive
from inventory.catalogue.service import ON_OFFER
from inventory.deliveries.items import ItemsByName, items_by_name
from inventory.deliveries.rows import DeliveryRow
from inventory.deliveries.service import delivery_receive
from inventory.holds.taking import balloons_lose_taken, balloons_take
from inventory.kit.service import kit_hold, kit_save
from inventory.models import Bag, Item, Kit, Supplier, SupplierBag
from inventory.models.item import Kind
from inventory.models.kit import KitKind
from inventory.models.ledger import LossReason

QUAYSIDE: Final = {
    "name": "Quayside Balloon Supply",
    "lead_days": 4,
    "smallest_order_cents": 4000,
    "delivery_cents": 895,
    "note": "Orders before noon go out the same day.",
}
MILLBROOK: Final = {
    "name": "Millbrook Party Wholesale",
    "lead_days": 9,
    "smallest_order_cents": 9000,
    "delivery_cents": 1450,
    "note": "Cheaper by the big bag, slower to come.",
}
CUPBOARD, CRATE, STUDIO, DRAWER = "Hall cupboard", "Blue crate", "Studio shelf", "Long drawer"
PLACE_OF_SIZE: Final = {5: CRATE, 11: CUPBOARD, 17: CUPBOARD, 24: STUDIO, None: STUDIO}
# How many bags by size of a colour that garlands are made of, and of any other.
MANY: Final = {5: 3, 11: 7, 17: 5, 24: 4, None: 2}
FEW: Final = {5: 1, 11: 1, 17: 1, 24: 1, None: 2}
OF_MANY: Final = ("oat", "fern", "marigold", "plum", "tidewater")
SUNDRY_BAGS: Final = 3

# Ordered: what came of it came some days ago, and what is expected comes in some days.
ORDERED_AND_CAME: Final = ("curling ribbon", "copper 11", "cockle 5")
ORDERED: Final = (("marigold 11", 3), ("plum 5", 2), ("fern 17", 1))
CAME_ORDERED_DAYS, CAME_DAYS, ORDERED_DAYS, EXPECTED_DAYS = 33, 27, 1, 3


@dataclass(frozen=True)
class DemoKit:
    name: str
    kind: KitKind
    count: int
    rest_days: int
    jobs: tuple[str, ...] = ()
    note: str = ""


KIT: Final = (
    DemoKit("Ring stand, 7 ft", KitKind.STAND, 1, 1, ("Wedding in the barn",), "In two halves"),
    DemoKit("Pole stand, weighted", KitKind.STAND, 2, 1, ("Sailing supper arch",), "20 lb a foot"),
    DemoKit(
        "Step ladder, 8 ft", KitKind.LADDER, 1, 0, ("Sixth birthday porch", "Wedding in the barn")
    ),
    DemoKit("Electric pump, two nozzles", KitKind.PUMP, 1, 0),
)

OLD_DAYS, MIDDLE_DAYS, NEW_DAYS = 600, 150, 45
OLD_LOT, GOOD_LOT, BAD_LOT = "A0913", "B2140", "B2207"


@dataclass(frozen=True)
class Used:
    """Taken for a job some days ago, of which some did not last."""

    job: str
    item: str
    lot: str
    days_ago: int
    taken: int
    lost: int = 0
    reason: str = LossReason.POPPED


USED: Final = (
    Used("Summer fair arch", "oat 11", GOOD_LOT, 76, 36, 3),
    Used("Summer fair arch", "fern 11", GOOD_LOT, 76, 34, 2),
    Used("Summer fair arch", "tidewater 11", GOOD_LOT, 76, 27, 2),
    Used("Rowers' prize table", "tidewater 11", GOOD_LOT, 53, 40, 1),
    Used("Harvest window", "tidewater 11", GOOD_LOT, 39, 30, 1, LossReason.LEAKED),
    Used("Harvest window", "copper starburst", GOOD_LOT, 39, 36, 4, LossReason.LEAKED),
    Used("Growers' show stage", "marigold 11", GOOD_LOT, 25, 40, 1),
    Used("Bakery's first year", "marigold 11", BAD_LOT, 1, 34, 9),
)


def shelf_stock(*, owner: User, now: datetime) -> None:
    """Before the jobs, as a promise holds what is there. Made once."""
    if Supplier.objects.exists():
        return
    quayside, millbrook = (Supplier.objects.create(**each) for each in (QUAYSIDE, MILLBROOK))
    items = items_by_name()
    for number, supplier, days_ago, rows in (
        ("Q-1187", quayside, OLD_DAYS, _old_rows(items)),
        ("M-20416", millbrook, MIDDLE_DAYS, list(_rows(items, GOOD_LOT, is_first=True))),
        ("Q-1630", quayside, NEW_DAYS, list(_rows(items, BAD_LOT, is_first=False))),
    ):
        delivery_receive(
            supplier=supplier,
            note_number=number,
            received_on=_day(now, days_ago),
            rows=rows,
            by=owner,
            now=now - timedelta(days=days_ago),
        )
    _big_bags(millbrook)
    _orders(millbrook, quayside, items, owner=owner, now=now)


def shelf_use(*, owner: User, now: datetime) -> None:
    """After the jobs: what went into those that are made, and the kit they have. Made once."""
    items = items_by_name()
    if not Kit.objects.exists():
        _kit(now)
    for used in USED:
        job = Job.objects.filter(title=used.job).first()
        if job is None:
            continue
        item = items.meant(used.item)
        if not job.ledger_lines.filter(bag__item=item).exists():
            _use(used, job, item, owner=owner, now=now)


def _orders(
    before: Supplier, now_from: Supplier, items: ItemsByName, *, owner: User, now: datetime
) -> None:
    """One that came, and one that is on its way."""
    came = order_place(
        supplier=before,
        rows=[_ordered(items.meant(name), 1) for name in ORDERED_AND_CAME],
        ordered_on=_day(now, CAME_ORDERED_DAYS),
        expected_on=_day(now, CAME_DAYS),
        delivery_cents=before.delivery_cents,
        by=owner,
    )
    order_receive(
        order=came,
        came=[Came(line, line.bags, lot=GOOD_LOT, place=CUPBOARD) for line in came.lines.all()],
        note_number="M-20517",
        received_on=_day(now, CAME_DAYS),
        by=owner,
        now=now - timedelta(days=CAME_DAYS),
    )
    order_place(
        supplier=now_from,
        rows=[_ordered(items.meant(name), bags) for name, bags in ORDERED],
        ordered_on=_day(now, ORDERED_DAYS),
        expected_on=_day(now, -EXPECTED_DAYS),
        delivery_cents=now_from.delivery_cents,
        by=owner,
        note="They ring before they come.",
    )


def _ordered(item: Item, bags: int) -> OrderRow:
    return OrderRow(item, item.bag_count, bags, item.bag_cents)


def _kit(now: datetime) -> None:
    for each in KIT:
        kit = kit_save(
            kit=Kit(
                name=each.name,
                kind=each.kind,
                count=each.count,
                turnaround_days=each.rest_days,
                note=each.note,
            ),
            today=now.date(),
        )
        for job in Job.objects.filter(title__in=each.jobs).exclude(event_on=None):
            day = job.event_on
            kit_hold(job=job, kit=kit, quantity=each.count, from_on=day, until_on=day, now=now)


def _use(used: Used, job: Job, item: Item, *, owner: User, now: datetime) -> None:
    bags = Bag.objects.filter(item=item, lot=used.lot, left__gte=used.taken)
    bag = bags.order_by("-is_open", "pk").first()
    if bag is None:
        return
    at = now - timedelta(days=used.days_ago)
    said = {"bag": bag, "job": job, "by": owner, "now": at}
    balloons_take(quantity=used.taken, **said)
    if used.lost:
        balloons_lose_taken(quantity=used.lost, reason=used.reason, **said)


def _old_rows(items: ItemsByName) -> list[DeliveryRow]:
    return [
        _row(items.meant(name), bags=1, lot=OLD_LOT, place=CRATE, note="found at the back")
        for name in ("plum 11", "cockle 5")
    ]


def _rows(items: ItemsByName, lot: str, *, is_first: bool) -> Iterator[DeliveryRow]:
    """The larger half of every item's bags in the first delivery, the rest in the second."""
    for item in items.items:
        bags = _bags_wanted(item)
        half = (bags + 1) // 2 if is_first else bags // 2
        if half:
            is_sundry = item.kind == Kind.SUNDRY
            place = DRAWER if is_sundry else PLACE_OF_SIZE[item.nominal_in]
            yield _row(item, bags=half, lot="" if is_sundry else lot, place=place)


def _bags_wanted(item: Item) -> int:
    if item.kind == Kind.SUNDRY:
        return SUNDRY_BAGS
    by_size: Mapping[int | None, int] = MANY if item.colour.key in OF_MANY else FEW
    return by_size[item.nominal_in]


def _row(item: Item, *, bags: int, lot: str, place: str, note: str = "") -> DeliveryRow:
    return DeliveryRow(
        item=item,
        printed_count=item.bag_count,
        cost_cents=item.bag_cents,
        bags=bags,
        lot=lot,
        place=place,
        note=note,
    )


def _big_bags(supplier: Supplier) -> None:
    """The wholesaler also sells the usual size by the half thousand, a fifth cheaper."""
    SupplierBag.objects.bulk_create(
        SupplierBag(supplier=supplier, item=item, bag_count=500, bag_cents=item.bag_cents * 4)
        for item in Item.objects.filter(ON_OFFER, kind=Kind.LATEX, nominal_in=11)
    )


def _day(now: datetime, days_ago: int) -> date:
    return (now - timedelta(days=days_ago)).date()
