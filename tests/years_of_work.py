"""Years of invented work in the database at once: for benchmarks, never for the owner's file.

Written in bulk, but as the app itself would: each bag's lines add up, and the database watches.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from itertools import cycle, islice

from decor.models import Client, Job
from decor.models.job import Stage
from inventory.catalogue.starter import add_starter_catalogue
from inventory.models import (
    Bag,
    Delivery,
    Hold,
    Item,
    LedgerLine,
    Order,
    OrderLine,
    Supplier,
    SupplierBag,
)
from inventory.models.hold import HoldState
from inventory.models.order import OrderState
from quoting.models import Quote, RateCard
from tests.factories import BusinessFactory, ClientFactory, RateCardFactory, UserFactory

DAYS_A_YEAR = 365
JOBS_A_YEAR = 400
QUOTES_A_JOB = 3
BAGS_A_YEAR = 600
BAGS_A_DELIVERY = 20
ITEMS_A_JOB = 6
CLIENTS = 60
UPCOMING_JOBS = 30
UPCOMING_DAYS = 90
BAGS_IN_USE = 200
OPEN_ORDERS = 6
PRINTED = 100
ROUNDS = 12  # of taking, bringing back and losing some, in the life of a bag

_SUPPLIERS = (
    ("Quayside Balloon Supply", 5, 4000, 895),
    ("Market Square Party Goods", 1, 0, 0),
    ("Northshore Wholesale", 12, 7500, 1200),
)
_OFFERED = ((25, 475), (50, 850), (100, 1450))


@dataclass(frozen=True)
class Business:
    """What all the years have in common."""

    today: date
    items: list[Item]
    suppliers: list[Supplier]
    clients: list[Client]
    rate_card: RateCard


def begin(today: date) -> Business:
    BusinessFactory()
    UserFactory()
    add_starter_catalogue()
    items = list(Item.objects.all())
    suppliers = [
        Supplier.objects.create(
            name=name, lead_days=lead, smallest_order_cents=smallest, delivery_cents=delivery
        )
        for name, lead, smallest, delivery in _SUPPLIERS
    ]
    SupplierBag.objects.bulk_create(
        SupplierBag(
            supplier=supplier,
            item=item,
            bag_count=count,
            bag_cents=cents + 5 * ((7 * supplier.pk + 3 * item.pk) % 30),
        )
        for supplier in suppliers
        for item in items
        for count, cents in _OFFERED
    )
    clients = [ClientFactory(name=f"Client {n}", email="") for n in range(CLIENTS)]
    return Business(today, items, suppliers, clients, RateCardFactory())


def add_year(business: Business, *, years_ago: int) -> None:
    """The year that ended so many years ago. With the newest come jobs and orders to come."""
    last_day = business.today - timedelta(days=DAYS_A_YEAR * years_ago)
    jobs = _jobs(business, last_day, is_newest=years_ago == 0)
    _quotes(business, jobs)
    _holds(business, jobs)
    _bags(business, jobs, last_day, is_newest=years_ago == 0)
    if years_ago == 0:
        _orders_to_come(business)


def _jobs(business: Business, last_day: date, *, is_newest: bool) -> list[Job]:
    to_come = UPCOMING_JOBS if is_newest else 0
    past = JOBS_A_YEAR - to_come
    days = [last_day - timedelta(days=n * DAYS_A_YEAR // past) for n in range(past)]
    days += [last_day + timedelta(days=1 + n * UPCOMING_DAYS // to_come) for n in range(to_come)]
    return Job.objects.bulk_create(
        Job(
            client=business.clients[n % CLIENTS],
            title=f"Garland of {day.isoformat()}",
            event_on=day,
            stage=Stage.PROMISED if day > business.today else Stage.DONE,
        )
        for n, day in enumerate(days)
    )


def _quotes(business: Business, jobs: list[Job]) -> None:
    Quote.objects.bulk_create(
        Quote(
            number=f"LL-{job.pk}-{n}",
            job=job,
            rate_card=business.rate_card,
            expires_on=job.event_on,
        )
        for job in jobs
        for n in range(QUOTES_A_JOB)
    )


def _holds(business: Business, jobs: list[Job]) -> None:
    Hold.objects.bulk_create(
        _hold(job, business.items[(7 * job.pk + 5 * n) % len(business.items)], business.today)
        for job in jobs
        for n in range(ITEMS_A_JOB)
    )


def _hold(job: Job, item: Item, today: date) -> Hold:
    quantity = 60 + (13 * job.pk + item.pk) % 90
    is_open = job.event_on > today
    needed_on = job.event_on - timedelta(days=1)
    return Hold(
        job=job,
        item=item,
        quantity=quantity,
        taken=0 if is_open else quantity - 5,
        state=HoldState.FIRM if is_open else HoldState.RELEASED,
        needed_on=needed_on,
        placed_at=_at(needed_on - timedelta(days=30)),
        released_at=None if is_open else _at(job.event_on),
    )


def _bags(business: Business, jobs: list[Job], last_day: date, *, is_newest: bool) -> None:
    """The oldest come first, and the newest of the newest year are still in use."""
    unused = JOBS_A_YEAR - UPCOMING_JOBS if is_newest else JOBS_A_YEAR
    takers = cycle(jobs[:unused])
    plan = [
        (n, last_day - timedelta(days=(BAGS_A_YEAR - n) * DAYS_A_YEAR // BAGS_A_YEAR))
        for n in range(BAGS_A_YEAR)
    ]
    for start in range(0, BAGS_A_YEAR, BAGS_A_DELIVERY):
        together = plan[start : start + BAGS_A_DELIVERY]
        received_on = together[-1][1]
        delivery = _delivery(business, received_on, together[0][0])
        bags = Bag.objects.bulk_create(
            Bag(
                item=business.items[n % len(business.items)],
                delivery=delivery,
                lot=f"L{delivery.pk}",
                received_on=received_on,
                cost_cents=1450,
                printed_count=PRINTED,
                place=f"Cupboard {n % 6}",
            )
            for n, _ in together
        )
        LedgerLine.objects.bulk_create(
            line
            for (n, _), bag in zip(together, bags, strict=True)
            for line in _lines(
                bag,
                list(islice(takers, ROUNDS)),
                is_in_use=is_newest and n >= BAGS_A_YEAR - BAGS_IN_USE,
            )
        )


def _delivery(business: Business, received_on: date, first: int) -> Delivery:
    supplier = business.suppliers[first % len(business.suppliers)]
    order = Order.objects.create(
        supplier=supplier,
        ordered_on=received_on - timedelta(days=supplier.lead_days),
        expected_on=received_on,
        state=OrderState.RECEIVED,
    )
    OrderLine.objects.bulk_create(
        OrderLine(
            order=order,
            item=business.items[(first + n) % len(business.items)],
            bag_count=PRINTED,
            bags=1,
            received_bags=1,
            bag_cents=1450,
        )
        for n in range(BAGS_A_DELIVERY)
    )
    return Delivery.objects.create(
        supplier=supplier, order=order, note_number=f"N-{order.pk}", received_on=received_on
    )


def _lines(bag: Bag, jobs: list[Job], *, is_in_use: bool) -> Iterator[LedgerLine]:
    """Forty lines: an old bag ends empty, one in use with most of it left."""
    taken, returned = (5, 4) if is_in_use else (10, 3)
    yield _line(bag, "received", bag.printed_count)
    yield _line(bag, "opened", 0)
    for job in jobs:
        yield _line(bag, "taken", -taken, job=job)
        yield _line(bag, "returned", returned, job=job)
        yield _line(bag, "lost", -1, job=job, reason="popped")
    left = bag.printed_count - ROUNDS * (taken - returned + 1)
    yield _line(bag, "counted", 0)
    if is_in_use:
        yield _line(bag, "counted", 0)
    else:
        yield _line(bag, "thrown_away", -left, why="too few to use")


def _line(bag: Bag, kind: str, quantity: int, **said: object) -> LedgerLine:
    return LedgerLine(bag=bag, kind=kind, quantity=quantity, at=_at(bag.received_on), **said)


def _orders_to_come(business: Business) -> None:
    for n in range(OPEN_ORDERS):
        order = Order.objects.create(
            supplier=business.suppliers[n % len(business.suppliers)],
            ordered_on=business.today - timedelta(days=9),
            expected_on=business.today + timedelta(days=3 * n - 1),
        )
        OrderLine.objects.create(
            order=order, item=business.items[5 * n], bag_count=PRINTED, bags=2, bag_cents=1450
        )


def _at(day: date) -> datetime:
    return datetime.combine(day, time(12), tzinfo=UTC)
