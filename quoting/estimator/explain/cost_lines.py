"""What each line of the cost is made of."""

from ..costs import MaterialUse, PriceLine, SundryUse, material_line, pool_materials, pool_sundries
from ..estimating import Estimate
from .term import CATALOGUE, Formula, Term, of_piece, of_rates, worked_out
from .work import round_trips


def money_term(est: Estimate, symbol: str, what: str, cents: float, *, see: str = "") -> Term:
    return worked_out(symbol, what, cents / 100, est.price.currency, see=see)


def rate_term(est: Estimate, symbol: str, what: str, cents: float) -> Term:
    return of_rates(symbol, what, cents / 100, est.price.currency)


def cost_formula(est: Estimate, line: PriceLine) -> Formula:
    return _KINDS[line.kind](est, line)


def _bought(symbol: str, what: str, value: float, unit: str) -> Term:
    return Term(symbol=symbol, what=what, value=value, unit=unit, provenance=CATALOGUE)


def _material(est: Estimate, line: PriceLine) -> Formula:
    use = next(use for use in pool_materials([est.use]) if material_line(use) == line)
    formula = "up(n / k) × B" if use.item.special_order else "cents(n × B / k)"
    return formula, _bag(est, use)


def _bag(est: Estimate, use: MaterialUse) -> tuple[Term, ...]:
    return (
        worked_out("n", "to order, spares with them", use.total, "each"),
        _bought("k", "in a bag", use.item.bag_count, "each"),
        _bought("B", "price of a bag", use.item.bag_cents / 100, est.price.currency),
    )


def _sundry(est: Estimate, line: PriceLine) -> Formula:
    use = next(use for use in pool_sundries([est.use]) if use.item == line.label)
    return "cents(q × u / 100)", (
        worked_out("q", "quantity", use.quantity, use.unit, see=f"sundry {use.item}"),
        _sundry_price(use),
    )


def _sundry_price(use: SundryUse) -> Term:
    if use.unit_cents is None:
        return _bought("u", "no price in the catalogue", 0, "cents")
    return _bought("u", "price of one", float(use.unit_cents), "cents")


def _kit(est: Estimate, line: PriceLine) -> Formula:
    return "w", (rate_term(est, "w", "wear of stands, frames and pumps", line.amount_cents),)


def _labour(est: Estimate, line: PriceLine) -> Formula:
    hours = sum(x.person_hours for x in est.labour if x.phase == line.label)
    return "cents(h × w)", (
        worked_out("h", "hours", hours, "h", see=f"hours {line.label}"),
        rate_term(est, "w", "an hour", est.rates.labour_rate(line.label)),
    )


def _travel(est: Estimate, line: PriceLine) -> Formula:
    return "cents(2 × r × d × k / 100)", (
        round_trips("r", est.conditions),
        of_piece("d", "distance one way", est.conditions.distance_km, "km"),
        of_rates("k", "a km", est.rates.travel_cents_per_km, "cents"),
    )


def _overhead(est: Estimate, line: PriceLine) -> Formula:
    direct = est.price.cost_cents - line.amount_cents
    return "cents(D × o)", (
        money_term(est, "D", "all other cost", direct),
        of_rates("o", "overhead", est.rates.overhead_bp / 10_000, "of 1"),
    )


_KINDS = {
    "materials": _material,
    "sundries": _sundry,
    "kit": _kit,
    "labour": _labour,
    "travel": _travel,
    "overhead": _overhead,
}
COST_CHANGES = {
    "materials": "Order fewer, or find a dearer item's like at a lower price by the bag.",
    "sundries": "It follows what it is used for.",
    "kit": "Change what a piece wears off your kit, on the rate card.",
    "labour": "Fewer hours of it, or another wage on the rate card.",
    "travel": "One visit in place of two, or another rate by distance on the rate card.",
    "overhead": "It is a share of every cost: lower those, or the share on the rate card.",
}
