"""Every line of the cost and of the price, of one piece by itself."""

from collections import Counter
from collections.abc import Iterator, Mapping

from ..costs import PriceLine
from ..estimating import Estimate
from ..pricing import Price, price_at_margin, rush_tier
from ..wording import amount
from .cost_lines import COST_CHANGES, cost_formula, money_term, rate_term
from .term import Explanation, Formula, Term, of_rates

_WHOLE_BP = 10_000


def money(est: Estimate) -> Iterator[Explanation]:
    price = est.price
    keyed = dict(zip(price_keys(price), price.lines, strict=True))
    costs = {key: line for key, line in keyed.items() if line in price.cost_lines}
    steps = {key: line for key, line in keyed.items() if line not in price.cost_lines}
    for key, line in costs.items():
        yield _of_line(est, key, line, cost_formula(est, line), COST_CHANGES[line.kind])
    yield _sum(est, "cost", "Cost", costs, price.cost_cents)
    before = price.cost_cents
    for key, line in steps.items():
        change = _CHANGES.get(line.kind) or _one_point_more(est)
        yield _of_line(est, key, line, _STEPS[line.kind](est, before), change)
        before += line.amount_cents
    yield from _ends(est, steps)
    if price.net_cents:
        yield _margin_kept(est)


def price_keys(price: Price) -> tuple[str, ...]:
    """Of the lines of a price in their order: two things of one name are told apart."""
    seen: Counter[str] = Counter()
    keys = []
    for line in price.lines:
        seen[line.label] += 1
        again = f" ({seen[line.label]})" if seen[line.label] > 1 else ""
        keys.append(f"price {line.label}{again}")
    return tuple(keys)


def _ends(est: Estimate, steps: Mapping[str, PriceLine]) -> Iterator[Explanation]:
    """Net: the cost and every step but tax. Total: net and tax."""
    price = est.price
    cost = PriceLine(label="cost", amount_cents=price.cost_cents, why="", kind="")
    to_net = {key: line for key, line in steps.items() if line.kind != "tax"}
    yield _sum(est, "net", "Price before tax", {"cost": cost, **to_net}, price.net_cents)
    net = PriceLine(label="price before tax", amount_cents=price.net_cents, why="", kind="")
    tax = {key: line for key, line in steps.items() if line.kind == "tax"}
    yield _sum(est, "total", "Price with tax", {"net": net, **tax}, price.total_cents)


def _of_line(est: Estimate, key: str, line: PriceLine, found: Formula, change: str) -> Explanation:
    formula, parts = found
    return Explanation(
        key=key,
        title=line.label[0].upper() + line.label[1:],
        formula=formula,
        parts=parts,
        value=line.amount_cents / 100,
        unit=est.price.currency,
        to_change=change,
    )


def _sum(
    est: Estimate, key: str, title: str, lines: Mapping[str, PriceLine], cents: int
) -> Explanation:
    parts = tuple(
        money_term(est, f"p{i}", line.label, line.amount_cents, see=see)
        for i, (see, line) in enumerate(lines.items(), start=1)
    )
    return Explanation(
        key=key,
        title=title,
        formula=" + ".join(part.symbol for part in parts),
        parts=parts,
        value=cents / 100,
        unit=est.price.currency,
        to_change="The largest line is where a change tells most.",
    )


def _share(symbol: str, what: str, basis_points: int) -> Term:
    return of_rates(symbol, what, basis_points / _WHOLE_BP, "of 1")


def _margin(est: Estimate, before: int) -> Formula:
    return "cents(C / (1 − m)) − C", (
        money_term(est, "C", "cost", before, see="cost"),
        _share("m", "margin, of the price and not of the cost", est.rates.margin_bp),
    )


def _one_point_more(est: Estimate) -> str:
    cost, margin = est.price.cost_cents, est.rates.margin_bp
    more = price_at_margin(cost, margin + 100) - price_at_margin(cost, margin)
    return f"One point more of margin on the rate card adds {amount(more)} here."


def _minimum(est: Estimate, before: int) -> Formula:
    return "max(0, M − P)", (
        rate_term(est, "M", "minimum order", est.rates.minimum_cents),
        money_term(est, "P", "price so far", before),
    )


def _surcharged(est: Estimate) -> Term:
    """What rush and outside hours both count from: the price before either of them."""
    kinds = ("margin", "minimum")
    steps = [line.amount_cents for line in est.price.step_lines if line.kind in kinds]
    cents = est.price.cost_cents + sum(steps)
    return money_term(est, "P", "price before rush and outside hours", cents)


def _rush(est: Estimate, before: int) -> Formula:
    tier = rush_tier(est.rates, est.conditions.lead_days)
    extra = _share("x", "more at this notice", tier.extra_bp if tier else 0)
    return "cents(P × x)", (_surcharged(est), extra)


def _outside_hours(est: Estimate, before: int) -> Formula:
    extra = _share("x", "more outside usual hours", est.rates.outside_hours_bp)
    return "cents(P × x)", (_surcharged(est), extra)


def _strike(est: Estimate, before: int) -> Formula:
    return "f", (rate_term(est, "f", "fee for taking it down", est.rates.strike_fee_cents),)


def _rounding(est: Estimate, before: int) -> Formula:
    parts = (
        money_term(est, "P", "price so far", before),
        rate_term(est, "s", "a multiple of", est.rates.rounding_cents),
    )
    if not est.rates.tax_inclusive:
        return "up(P / s) × s − P", parts
    tax = _share("t", "tax", est.rates.tax_bp)
    return "cents(up((P + cents(P × t)) / s) × s / (1 + t)) − P", (*parts, tax)


def _tax(est: Estimate, before: int) -> Formula:
    tax = _share("t", "tax", est.rates.tax_bp)
    if not est.rates.tax_inclusive:
        return "cents(N × t)", (money_term(est, "N", "price before tax", before, see="net"), tax)
    total = money_term(est, "T", "price with tax", est.price.total_cents, see="total")
    return "T − cents(T / (1 + t))", (total, tax)


def _margin_kept(est: Estimate) -> Explanation:
    return Explanation(
        key="margin",
        title="Margin kept",
        formula="(N − C) / N",
        parts=(
            money_term(est, "N", "price before tax", est.price.net_cents, see="net"),
            money_term(est, "C", "cost", est.price.cost_cents, see="cost"),
        ),
        value=(est.price.net_cents - est.price.cost_cents) / est.price.net_cents,
        unit="of the price",
        to_change="Another margin on the rate card, or less cost at the same price.",
    )


_STEPS = {
    "margin": _margin,
    "minimum": _minimum,
    "rush": _rush,
    "outside hours": _outside_hours,
    "strike": _strike,
    "rounding": _rounding,
    "tax": _tax,
}
# The margin's own is worked out: one point more of it.
_CHANGES = {
    "minimum": "Another minimum on the rate card; a larger piece needs less of it.",
    "rush": "More notice, or other rush rates on the rate card.",
    "outside hours": "Hang it in usual hours.",
    "strike": "Let the client take it down.",
    "rounding": "Another rounding step on the rate card.",
    "tax": "The law sets it.",
}
