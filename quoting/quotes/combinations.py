"""Every way a client can choose among the variants of a quote, each with its exact price."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from itertools import product
from math import prod
from typing import Any

from quoting.quotes.choices import Choice, Option, choices_of
from quoting.quotes.payments import PaymentPlan
from quoting.quotes.pricing import Order, PricedPiece, PricedQuote

# Three things in three variants each: more than that nobody looks through.
MOST_COMBINATIONS = 27

Chosen = Mapping[int, int]
"""By number of a choice, the piece that was chosen."""


class NotOnOffer(ValueError):
    """What was chosen is not what the edition offers."""


@dataclass(frozen=True, kw_only=True)
class Combination:
    """`cost_cents` is None in editions of before, which froze no cost of every choice."""

    chosen: Chosen
    cost_cents: int | None
    net_cents: int
    tax_cents: int
    total_cents: int
    plan: PaymentPlan


def count_of_combinations(priced: PricedQuote) -> int:
    return prod(len(choice.options) for choice in choices_of(priced))


def combinations_of(priced: PricedQuote, *, today: date) -> Iterator[Combination]:
    """None where there is nothing to choose. What counts in the total is one of them."""
    choices = choices_of(priced)
    if not choices:
        return
    order = Order(quote=priced.quote, rates=priced.rates, conditions=priced.conditions, today=today)
    for options in product(*(choice.options for choice in choices)):
        yield _combination(priced, order, choices, options)


def _combination(
    priced: PricedQuote, order: Order, choices: tuple[Choice, ...], options: tuple[Option, ...]
) -> Combination:
    chosen = dict(zip((choice.number for choice in choices), options, strict=True))
    pieces = [
        PricedPiece(piece=option.piece, estimate=option.estimate)
        if (option := chosen.get(piece.piece.choice))
        else piece
        for piece in priced.pieces
    ]
    found = order.priced(pieces)
    return Combination(
        chosen={number: option.piece.pk for number, option in chosen.items()},
        cost_cents=found.price.cost_cents,
        net_cents=found.price.net_cents,
        tax_cents=found.price.tax_cents,
        total_cents=found.price.total_cents,
        plan=found.plan,
    )


def frozen_choices(result: Mapping[str, Any]) -> dict[int, list[Mapping[str, Any]]]:
    """By number: the variants that an edition offers of one thing."""
    found: dict[int, list[Mapping[str, Any]]] = {}
    for option in result["variants"]:
        found.setdefault(option["choice"], []).append(option)
    return found


def counted_choice(result: Mapping[str, Any]) -> dict[int, int]:
    """What the total of an edition counts: what a client gets who names nothing."""
    return {option["choice"]: option["id"] for option in result["variants"] if option["counts"]}


def frozen_combination(result: Mapping[str, Any], chosen: Chosen) -> Combination:
    """Its price as an edition froze it. Raises NotOnOffer."""
    return _read(_frozen(result, chosen), chosen)


def _frozen(result: Mapping[str, Any], chosen: Chosen) -> Mapping[str, Any]:
    if not result["variants"] and not chosen:
        return {**result["price"], "payment": result["payment"]}
    kept = result.get("combinations") or _before_combinations(result)
    wanted = {str(number): pk for number, pk in chosen.items()}
    found = next((one for one in kept if one["chosen"] == wanted), None)
    if found is None:
        raise NotOnOffer(str(wanted))
    return found


def _before_combinations(result: Mapping[str, Any]) -> list[Mapping[str, Any]]:
    """Editions of before froze the price of one variant at a time."""
    if len(frozen_choices(result)) != 1:
        return []
    return [
        {**option, "chosen": {str(option["choice"]): option["id"]}} for option in result["variants"]
    ]


def _read(kept: Mapping[str, Any], chosen: Chosen) -> Combination:
    payment = kept["payment"]
    balance_on = payment["balance_on"]
    return Combination(
        chosen=dict(chosen),
        cost_cents=kept.get("cost_cents"),
        net_cents=kept["net_cents"],
        tax_cents=kept["tax_cents"],
        total_cents=kept["total_cents"],
        plan=PaymentPlan(
            total_cents=kept["total_cents"],
            deposit_cents=payment["deposit_cents"],
            balance_cents=payment["balance_cents"],
            balance_on=date.fromisoformat(balance_on) if balance_on else None,
        ),
    )
