"""The buy list: everything that is short, in whole bags, by supplier, and when to order it."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from inventory.buying.cheapest import cheapest
from inventory.buying.purchase import BagOffer, Purchase, Terms
from inventory.buying.shortfalls import Shortfall, shortfalls
from inventory.buying.when import Urgency, When, is_in_time, when_to_order
from inventory.models import ShelfSettings, Supplier, SupplierBag


@dataclass(frozen=True)
class Bags:
    """Equal bags of one item."""

    bag_count: int
    bags: int
    bag_cents: int

    @property
    def cents(self) -> int:
        return self.bags * self.bag_cents


@dataclass(frozen=True)
class BagsFrom:
    """Equal bags of one item from one supplier; `arrives_on` when ordered today.

    `is_raised`: that supplier's smallest order has made it more than it would be.
    """

    supplier: Supplier | None
    bags: Bags
    arrives_on: date | None
    is_raised: bool


@dataclass(frozen=True)
class BuyLine:
    """`left_over` counts all bags bought of the item, `is_split`: also from another supplier."""

    shortfall: Shortfall
    bags: tuple[Bags, ...]
    left_over: int
    when: When
    is_split: bool

    @property
    def cents(self) -> int:
        return sum(bags.cents for bags in self.bags)


@dataclass(frozen=True)
class ToOrder:
    """What to order from one supplier; from none, where an item has none yet."""

    supplier: Supplier | None
    lines: tuple[BuyLine, ...]
    is_raised: bool

    @property
    def when(self) -> When:
        return min((line.when for line in self.lines), key=_first_to_order)

    @property
    def bags_cents(self) -> int:
        return sum(line.cents for line in self.lines)

    @property
    def delivery_cents(self) -> int:
        return self.supplier.delivery_cents if self.supplier else 0

    @property
    def cents(self) -> int:
        return self.bags_cents + self.delivery_cents


@dataclass(frozen=True)
class BuyList:
    """`is_exact`: no cheaper list of whole bags covers it. Otherwise one could be cheaper."""

    until_on: date
    orders: tuple[ToOrder, ...] = ()
    is_exact: bool = True

    @property
    def cents(self) -> int:
        return sum(order.cents for order in self.orders)

    def of(self, supplier: int | None) -> ToOrder | None:
        wanted = (order for order in self.orders if supplier_number(order.supplier) == supplier)
        return next(wanted, None)


def buy_list(*, until_on: date, today: date) -> BuyList:
    """The same number of questions to the database however much is short.

    Each item is bought whole for the first day it is short, from those who can bring it by then
    if there are any, else from whoever brings it first. Among these it is the cheapest.
    """
    short = {each.item.pk: each for each in shortfalls(until_on=until_on, today=today)}
    if not short:
        return BuyList(until_on)
    suppliers = Supplier.objects.filter(archived_at=None).in_bulk()
    purchase = _purchase(short, suppliers, today)
    orders = _orders(purchase, short, suppliers, today)
    return BuyList(until_on, tuple(sorted(orders, key=_most_urgent)), purchase.is_exact)


def bags_to_buy(short: Iterable[Shortfall], *, today: date) -> dict[int, tuple[BagsFrom, ...]]:
    """By item what the buy list would buy, if nothing but this were short. Two queries."""
    wanted = {each.item.pk: each for each in short}
    suppliers = Supplier.objects.filter(archived_at=None).in_bulk()
    found: dict[int, tuple[BagsFrom, ...]] = dict.fromkeys(wanted, ())
    purchase = _purchase(wanted, suppliers, today)
    for offer, times in purchase.bags.items():
        supplier = suppliers[offer.supplier] if offer.supplier is not None else None
        bags = BagsFrom(
            supplier=supplier,
            bags=Bags(offer.count, times, offer.cents),
            arrives_on=today + timedelta(days=supplier.lead_days) if supplier else None,
            is_raised=offer.supplier in purchase.raised,
        )
        found[offer.item] = (*found[offer.item], bags)
    return found


def supplier_number(supplier: Supplier | None) -> int | None:
    return supplier.pk if supplier else None


def days_to_spare() -> int:
    settings = ShelfSettings.objects.filter(pk=ShelfSettings.THE_ONE).first() or ShelfSettings()
    return settings.days_to_spare


def _purchase(
    short: Mapping[int, Shortfall], suppliers: Mapping[int, Supplier], today: date
) -> Purchase:
    return cheapest(
        {pk: each.quantity for pk, each in short.items()},
        _offers(short, suppliers, today),
        {
            pk: Terms(smallest_cents=s.smallest_order_cents, delivery_cents=s.delivery_cents)
            for pk, s in suppliers.items()
        },
    )


def _offers(
    short: Mapping[int, Shortfall], suppliers: Mapping[int, Supplier], today: date
) -> list[BagOffer]:
    """An item that nobody offers is bought in its usual bag, from no supplier yet."""
    by_item: dict[int, list[BagOffer]] = defaultdict(list)
    offered = SupplierBag.objects.filter(item__in=short, supplier__in=suppliers).order_by("pk")
    for offer in offered.values_list("item", "supplier", "bag_count", "bag_cents"):
        by_item[offer[0]].append(BagOffer(*offer))
    lead = {pk: supplier.lead_days for pk, supplier in suppliers.items()}
    found = []
    for pk, each in short.items():
        usual = BagOffer(pk, None, each.item.bag_count, each.item.bag_cents)
        found += _soon_enough(by_item[pk], lead, each.needed_on, today) or [usual]
    return found


def _soon_enough(
    offers: Sequence[BagOffer], lead: Mapping[int, int], needed_on: date, today: date
) -> list[BagOffer]:
    quickest = min((lead[offer.supplier] for offer in offers), default=0)
    return [
        offer
        for offer in offers
        if lead[offer.supplier] == quickest
        or is_in_time(lead_days=lead[offer.supplier], needed_on=needed_on, today=today)
    ]


def _orders(
    purchase: Purchase,
    short: Mapping[int, Shortfall],
    suppliers: Mapping[int, Supplier],
    today: date,
) -> list[ToOrder]:
    to_spare = days_to_spare()
    bought: dict[int | None, dict[int, list[Bags]]] = defaultdict(lambda: defaultdict(list))
    sellers: dict[int, set[int | None]] = defaultdict(set)
    for offer, times in purchase.bags.items():
        bought[offer.supplier][offer.item].append(Bags(offer.count, times, offer.cents))
        sellers[offer.item].add(offer.supplier)
    orders = []
    for number, of_items in bought.items():
        supplier = suppliers[number] if number is not None else None
        lines = [
            BuyLine(
                shortfall=short[pk],
                bags=tuple(sorted(bags, key=lambda each: each.bag_count)),
                left_over=purchase.left_over[pk],
                when=when_to_order(
                    needed_on=short[pk].needed_on,
                    lead_days=supplier.lead_days if supplier else None,
                    days_to_spare=to_spare,
                    today=today,
                ),
                is_split=len(sellers[pk]) > 1,
            )
            for pk, bags in of_items.items()
        ]
        lines.sort(key=lambda line: (*_first_to_order(line.when), str(line.shortfall.item)))
        orders.append(ToOrder(supplier, tuple(lines), number in purchase.raised))
    return orders


def _first_to_order(when: When) -> tuple[bool, date]:
    return (when.urgency != Urgency.TOO_LATE, when.order_by)


def _most_urgent(order: ToOrder) -> tuple[bool, date, str]:
    return (*_first_to_order(order.when), str(order.supplier or ""))
