"""What an order costs its maker, line by line, each with its reason."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from .catalogue import CatalogueItem
from .hours import LabourLine, visit_labour
from .money import round_cents, share_bp
from .orders import OrderConditions
from .rates import PHASES, Rates
from .saying import METRES_PER_FOOT, Measure, Quantity, UnitSystem, fill_in, say
from .wording import amount, counted, percent

IMPERIAL: Final = UnitSystem.IMPERIAL
NO_PRICE: Final = "no price in the catalogue"
COST_KINDS: Final = ("materials", "sundries", "kit", "labour", "travel", "overhead")
# A thing that is needed and has no price must not vanish from the list.
_ALWAYS_SHOWN: Final = ("materials", "sundries")


@dataclass(frozen=True, kw_only=True)
class PriceLine:
    """One step from nothing to the total; `kind` is a cost kind or a price step.

    `why_imperial` stands where the reason names a length.
    """

    label: str
    amount_cents: int
    why: str
    kind: str
    why_imperial: str = ""

    def said(self, units: str) -> str:
        """The reason, in the units asked for."""
        return self.why_imperial if self.why_imperial and units == IMPERIAL else self.why


@dataclass(frozen=True, kw_only=True)
class MaterialUse:
    item: CatalogueItem
    total: int


@dataclass(frozen=True, kw_only=True)
class SundryUse:
    """`unit_cents` None: the catalogue has no price for it."""

    item: str
    unit: str
    quantity: float
    unit_cents: Decimal | None


@dataclass(frozen=True, kw_only=True)
class PieceUse:
    """What one piece uses up, for an order to add together before it is priced."""

    length_m: float
    crew: int
    materials: tuple[MaterialUse, ...]
    sundries: tuple[SundryUse, ...]
    labour: tuple[LabourLine, ...]


def order_cost_lines(
    uses: Sequence[PieceUse], *, conditions: OrderConditions, rates: Rates
) -> tuple[PriceLine, ...]:
    direct = (*piece_cost_lines(uses, rates), *_visit_lines(uses, conditions, rates))
    overhead = share_bp(sum(line.amount_cents for line in direct), rates.overhead_bp)
    why = f"{percent(rates.overhead_bp)} of all of the above"
    lines = (*direct, PriceLine(label="overhead", amount_cents=overhead, why=why, kind="overhead"))
    return tuple(line for line in lines if line.amount_cents or line.kind in _ALWAYS_SHOWN)


def piece_cost_lines(uses: Sequence[PieceUse], rates: Rates) -> tuple[PriceLine, ...]:
    """Pooled over the pieces: a special-order bag is bought once for all of them."""
    labour = [line for use in uses for line in use.labour]
    return (
        *map(material_line, pool_materials(uses)),
        *map(sundry_line, pool_sundries(uses)),
        _kit_line(len(uses), rates),
        *_labour_lines(labour, rates),
    )


def _visit_lines(
    uses: Sequence[PieceUse], conditions: OrderConditions, rates: Rates
) -> tuple[PriceLine, ...]:
    if not uses:
        return ()
    labour = visit_labour(
        [use.length_m for use in uses],
        conditions=conditions,
        crew=max(use.crew for use in uses),
        rates=rates,
    )
    return (*_labour_lines(labour, rates), _travel_line(conditions, rates))


def pool_materials(uses: Sequence[PieceUse]) -> list[MaterialUse]:
    totals: dict[CatalogueItem, int] = {}
    for material in (material for use in uses for material in use.materials):
        totals[material.item] = totals.get(material.item, 0) + material.total
    return [MaterialUse(item=item, total=total) for item, total in totals.items()]


def material_line(use: MaterialUse) -> PriceLine:
    item = use.item
    size = "" if item.nominal_in is None else f" {item.nominal_in:g} in"
    bag = f"a bag of {item.bag_count} at {amount(item.bag_cents)}"
    if item.special_order:
        bags = -(-use.total // item.bag_count)
        cents = bags * item.bag_cents
        why = f"special order for {use.total}: {counted(bags, 'whole bag', 'whole bags')}, {bag}"
    else:
        cents = round_cents(Decimal(use.total * item.bag_cents) / item.bag_count)
        why = f"{use.total} from {bag}"
    return PriceLine(label=f"{item.name}{size}", amount_cents=cents, why=why, kind="materials")


def pool_sundries(uses: Sequence[PieceUse]) -> list[SundryUse]:
    pooled: dict[str, SundryUse] = {}
    for sundry in (sundry for use in uses for sundry in use.sundries):
        before = pooled.get(sundry.item)
        pooled[sundry.item] = SundryUse(
            item=sundry.item,
            unit=sundry.unit,
            quantity=sundry.quantity + (before.quantity if before else 0),
            unit_cents=sundry.unit_cents,
        )
    return list(pooled.values())


def sundry_line(use: SundryUse) -> PriceLine:
    unit = "" if use.unit == "each" else f" {use.unit}"
    if use.unit_cents is None:
        cents, price = 0, NO_PRICE
    else:
        cents = round_cents(Decimal(str(use.quantity)) * use.unit_cents)
        price = f"at {use.unit_cents} cents{' a' if unit else ''}{unit}"
    return PriceLine(
        label=use.item,
        amount_cents=cents,
        why=f"{use.quantity:g}{unit} {price}",
        kind="sundries",
        why_imperial=_in_feet(use) if use.unit == "m" else "",
    )


def _in_feet(use: SundryUse) -> str:
    length = say(Quantity(use.quantity, Measure.LENGTH), IMPERIAL)
    if use.unit_cents is None:
        return f"{length} {NO_PRICE}"
    return f"{length} at {float(use.unit_cents) * METRES_PER_FOOT:.2g} cents a foot"


def _kit_line(pieces: int, rates: Rates) -> PriceLine:
    cents = pieces * rates.kit_wear_cents
    why = f"{amount(rates.kit_wear_cents)} for each piece"
    return PriceLine(label="kit wear", amount_cents=cents, why=why, kind="kit")


def _labour_lines(labour: Iterable[LabourLine], rates: Rates) -> list[PriceLine]:
    by_phase: dict[str, list[LabourLine]] = {}
    for line in labour:
        by_phase.setdefault(line.phase, []).append(line)
    return [_labour_line(phase, by_phase[phase], rates) for phase in PHASES if phase in by_phase]


def _labour_line(phase: str, lines: Sequence[LabourLine], rates: Rates) -> PriceLine:
    hours = sum(line.person_hours for line in lines)
    rate = rates.labour_rate(phase)
    why = f"{hours:.2f} h at {amount(rate)} an hour"
    if len(lines) == 1:
        why += f": {lines[0].why}"
    cents = round_cents(Decimal(str(hours)) * rate)
    return PriceLine(label=phase, amount_cents=cents, why=why, kind="labour")


def _travel_line(conditions: OrderConditions, rates: Rates) -> PriceLine:
    km = 2 * conditions.round_trips * conditions.distance_km
    rate = rates.travel_cents_per_km
    cents = round_cents(Decimal(str(km)) * Decimal(str(rate)))
    trips = counted(conditions.round_trips, "round trip", "round trips")
    numbers = {
        "way": Quantity(km, Measure.DISTANCE),
        "rate": Quantity(rate, Measure.CENTS_BY_DISTANCE),
    }
    why = trips + ", {way} in all at {rate}"
    return PriceLine(
        label="travel",
        amount_cents=cents,
        why=fill_in(why, numbers, UnitSystem.METRIC),
        kind="travel",
        why_imperial=fill_in(why, numbers, IMPERIAL),
    )
