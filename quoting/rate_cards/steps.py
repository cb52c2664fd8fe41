"""How a price comes about, step by step, in the order in which the estimator takes the steps."""

from collections.abc import Iterator
from dataclasses import dataclass

from decor.display import money_text, percent_text
from quoting.estimator import Rates, rates_to_dict
from quoting.rate_cards import folds as of
from quoting.rate_cards.folds import rush_text
from quoting.rate_cards.lines import RateLine
from quoting.rate_cards.margins import markup_bp_of
from quoting.rate_cards.measures import Showing


@dataclass(frozen=True, kw_only=True)
class Step:
    """`kind` is what the estimator calls its line; `rate` is what this card says about it."""

    kind: str
    title: str
    rate: str = ""
    why: str


def cost_steps(rates: Rates, showing: Showing) -> tuple[Step, ...]:
    """What a job costs."""
    said = _Said(rates, showing)
    return (
        Step(
            kind="materials",
            title="Balloons",
            why="Those that are used, at the price of a bag; a special order by the whole bag. "
            "Prices are in the catalogue.",
        ),
        Step(kind="sundries", title="Bands, ribbon, bags", why="At the catalogue's prices."),
        Step(
            kind="kit",
            title="Wear of kit",
            rate=said(of.OVERHEAD.lines[0]),
            why=of.OVERHEAD.lines[0].why,
        ),
        Step(
            kind="labour",
            title="Hours of work",
            rate=said(of.HOURS.lines[0]),
            why=" ".join(_wages(rates, showing)),
        ),
        Step(
            kind="travel",
            title="Travel",
            rate=said(of.TRAVEL.lines[0]),
            why=of.TRAVEL.lines[0].why,
        ),
        Step(
            kind="overhead",
            title="Overhead",
            rate=said(of.OVERHEAD.lines[1]),
            why=of.OVERHEAD.lines[1].why,
        ),
    )


def price_steps(rates: Rates, showing: Showing) -> tuple[Step, ...]:
    """From cost to what the client pays."""
    said = _Said(rates, showing)
    markup = percent_text(markup_bp_of(rates.margin_bp))
    return (
        Step(
            kind="margin",
            title="Margin",
            rate=said(of.MARGIN.lines[0]),
            why=f"Cost divided by what is left of 1: the same as a markup of {markup} on cost.",
        ),
        Step(kind="extra", title="Extra lines", why="At the price you write in the quote."),
        Step(
            kind="minimum",
            title="Minimum order",
            rate=said(of.MINIMUM.lines[0]),
            why=of.MINIMUM.lines[0].why,
        ),
        Step(kind="rush", title="Rush", rate=rush_text(rates), why=of.RUSH_FOLD.intro),
        Step(
            kind="outside hours",
            title="Outside usual hours",
            rate=said(of.OUTSIDE.lines[0]),
            why=of.OUTSIDE.lines[0].why,
        ),
        Step(
            kind="strike",
            title="Fee for taking down",
            rate=said(of.STRIKE.lines[0]),
            why=of.STRIKE.lines[0].why,
        ),
        Step(kind="discount", title="Discount", why="If you give one in the quote."),
        _rounding(rates, showing),
        _tax(rates),
    )


@dataclass(frozen=True)
class _Said:
    rates: Rates
    showing: Showing

    def __call__(self, line: RateLine) -> str:
        return line.text(rates_to_dict(self.rates), self.showing)


def _wages(rates: Rates, showing: Showing) -> Iterator[str]:
    yield "Each phase's hours at the wage."
    for phase, cents in rates.labour_cents_by_phase.items():
        yield f"{phase.capitalize()} at {money_text(cents, showing.currency)}."
    paid = "paid" if rates.drive_time_paid else "not paid"
    yield f"Time on the road is {paid}."


def _rounding(rates: Rates, showing: Showing) -> Step:
    what = "the total with its tax" if rates.tax_inclusive else "the price before tax"
    return Step(
        kind="rounding",
        title="Rounding",
        rate=f"up to a multiple of {money_text(rates.rounding_cents, showing.currency)}",
        why=f"So much that {what} comes to it.",
    )


def _tax(rates: Rates) -> Step:
    if rates.tax_inclusive:
        why = "It is in the price; the quote says how much of it is tax."
    else:
        why = "Added on top."
    return Step(kind="tax", title="Tax", rate=percent_text(rates.tax_bp), why=why)
