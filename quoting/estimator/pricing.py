"""From cost to the total the client pays, in a stated order, every step with its reason.

Cost; margin; extra lines; minimum order; rush; outside hours; strike fee; discount;
rounding; tax. Where tax is added on, the price before tax is rounded up and the tax is
reckoned from it. Where prices include tax, the total with tax is rounded up and the tax is
the part of it; the rounding step is what that adds to the price before tax.
Minimum, travel, rush, rounding and tax apply once to an order.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Final, Protocol

from .costs import COST_KINDS, PieceUse, PriceLine, order_cost_lines
from .money import round_cents, share_bp, split_exactly
from .orders import Discount, ExtraLine, OrderConditions
from .rates import Rates, RushTier
from .wording import amount, counted, percent

STEP_KINDS: Final = (
    "margin",
    "extra",
    "minimum",
    "rush",
    "outside hours",
    "strike",
    "discount",
    "rounding",
    "tax",
)
_WHOLE_BP: Final = 10_000


class Priced(Protocol):
    """An estimate of a piece, as far as an order is concerned."""

    @property
    def use(self) -> PieceUse: ...

    @property
    def own_cost_cents(self) -> int: ...


@dataclass(frozen=True, kw_only=True)
class Price:
    """Refuses to exist unless its lines add up to the cost and the total, to the cent."""

    currency: str
    cost_cents: int
    net_cents: int
    tax_cents: int
    total_cents: int
    lines: tuple[PriceLine, ...]

    def __post_init__(self) -> None:
        if self.net_cents + self.tax_cents != self.total_cents:
            raise ValueError("net and tax do not add up to the total")
        if sum(line.amount_cents for line in self.cost_lines) != self.cost_cents:
            raise ValueError("the cost lines do not add up to the cost")
        if sum(line.amount_cents for line in self.lines) != self.total_cents:
            raise ValueError("the lines do not add up to the total")

    @property
    def cost_lines(self) -> tuple[PriceLine, ...]:
        return tuple(line for line in self.lines if line.kind in COST_KINDS)

    @property
    def step_lines(self) -> tuple[PriceLine, ...]:
        return tuple(line for line in self.lines if line.kind not in COST_KINDS)

    @property
    def margin_bp(self) -> int:
        """What is left of the net price after cost, as a share of it; 0 of nothing."""
        if not self.net_cents:
            return 0
        left = self.net_cents - self.cost_cents
        return round_cents(Decimal(left) * _WHOLE_BP / self.net_cents)

    @property
    def drivers(self) -> tuple[PriceLine, ...]:
        """Cost lines, the dearest first."""
        return tuple(sorted(self.cost_lines, key=lambda line: -line.amount_cents))


def price_order(
    pieces: Sequence[Priced],
    *,
    rates: Rates,
    conditions: OrderConditions,
    extra_lines: Sequence[ExtraLine] = (),
    discount: Discount | None = None,
) -> Price:
    uses = [piece.use for piece in pieces]
    cost_lines = order_cost_lines(uses, conditions=conditions, rates=rates)
    steps = _Steps(list(cost_lines))
    cost = steps.sum_cents
    _add_margin(steps, rates)
    for extra in extra_lines:
        steps.add("extra", extra.label, extra.amount_cents, extra.why)
    _add_minimum(steps, rates)
    _add_surcharges(steps, rates, conditions)
    if discount:
        _take_discount(steps, discount)
    net = _add_tax_inclusive(steps, rates) if rates.tax_inclusive else _add_tax(steps, rates)
    return Price(
        currency=rates.currency,
        cost_cents=cost,
        net_cents=net,
        tax_cents=steps.sum_cents - net,
        total_cents=steps.sum_cents,
        lines=tuple(steps.lines),
    )


def share_net_among(net_cents: int, pieces: Sequence[Priced]) -> tuple[int, ...]:
    """A net price for each piece, adding up to the order's to the cent.

    In proportion to what each piece costs by itself; largest remainder, the earlier
    piece on a tie.
    """
    return split_exactly(net_cents, [piece.own_cost_cents for piece in pieces])


def price_at_margin(cost_cents: int, margin_bp: int) -> int:
    """Cost / (1 - margin): the margin is a share of the price, not of the cost."""
    return round_cents(Decimal(cost_cents) * _WHOLE_BP / (_WHOLE_BP - margin_bp))


@dataclass
class _Steps:
    lines: list[PriceLine] = field(default_factory=list)

    @property
    def sum_cents(self) -> int:
        return sum(line.amount_cents for line in self.lines)

    def add(self, kind: str, label: str, cents: int, why: str) -> None:
        if cents:
            self.lines.append(PriceLine(label=label, amount_cents=cents, why=why, kind=kind))


def _add_margin(steps: _Steps, rates: Rates) -> None:
    cost = steps.sum_cents
    price = price_at_margin(cost, rates.margin_bp)
    why = f"{percent(rates.margin_bp)} of a price of {amount(price)} (a margin, not a markup)"
    steps.add("margin", "margin", price - cost, why)


def _add_minimum(steps: _Steps, rates: Rates) -> None:
    short = max(0, rates.minimum_cents - steps.sum_cents)
    why = f"brings the order up to the minimum of {amount(rates.minimum_cents)}"
    steps.add("minimum", "minimum order", short, why)


def _add_surcharges(steps: _Steps, rates: Rates, conditions: OrderConditions) -> None:
    """Rush and outside hours both count from the same price, so neither multiplies the other."""
    price = steps.sum_cents
    tier = rush_tier(rates, conditions.lead_days)
    if tier:
        why = (
            f"{percent(tier.extra_bp)} with {counted(conditions.lead_days or 0, 'day', 'days')} "
            f"of notice ({tier.within_days} or fewer)"
        )
        steps.add("rush", "rush", share_bp(price, tier.extra_bp), why)
    if conditions.outside_hours:
        why = f"{percent(rates.outside_hours_bp)} for work outside usual hours"
        steps.add("outside hours", "outside hours", share_bp(price, rates.outside_hours_bp), why)
    if conditions.strike:
        steps.add("strike", "strike fee", rates.strike_fee_cents, "coming back to take it down")


def rush_tier(rates: Rates, lead_days: int | None) -> RushTier | None:
    """The tightest tier that this much notice falls into."""
    if lead_days is None:
        return None
    reached = [tier for tier in rates.rush if lead_days <= tier.within_days]
    return min(reached, key=lambda tier: tier.within_days, default=None)


def _take_discount(steps: _Steps, discount: Discount) -> None:
    price = steps.sum_cents
    wanted = share_bp(price, discount.bp) + discount.amount_cents
    why = f"{percent(discount.bp)} off" if discount.bp else "discount"
    if discount.bp and discount.amount_cents:
        why += f" and {amount(discount.amount_cents)}"
    if wanted > price:
        why += ", no further than to nothing"
    steps.add("discount", discount.label, -min(wanted, max(price, 0)), why)


def _add_tax(steps: _Steps, rates: Rates) -> int:
    """Tax on top: the net price is rounded up first, so that tax is exact on what is shown."""
    _round_up(steps, rates)
    net = steps.sum_cents
    tax = share_bp(net, rates.tax_bp)
    steps.add("tax", "tax", tax, f"{percent(rates.tax_bp)} of {amount(net)}")
    return net


def _add_tax_inclusive(steps: _Steps, rates: Rates) -> int:
    """Prices with tax in them: the total is rounded up, and the tax is the part of it."""
    net = steps.sum_cents
    step = rates.rounding_cents
    total = -(-(net + share_bp(net, rates.tax_bp)) // step) * step
    whole_bp = _WHOLE_BP + rates.tax_bp
    rounded_net = round_cents(Decimal(total) * _WHOLE_BP / whole_bp)
    why = f"brings the total with tax up to a multiple of {amount(step)}"
    steps.add("rounding", "rounding", rounded_net - net, why)
    why = f"{percent(rates.tax_bp)}, included in {amount(total)}"
    steps.add("tax", "tax", total - rounded_net, why)
    return rounded_net


def _round_up(steps: _Steps, rates: Rates) -> None:
    """Up and not to the nearest, so that rounding never takes from the margin."""
    step = rates.rounding_cents
    up = -steps.sum_cents % step
    steps.add("rounding", "rounding", up, f"up to a multiple of {amount(step)}")
