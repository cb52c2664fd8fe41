"""The amounts of a quote as its client reads them: with their tax where prices include it."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from itertools import accumulate, pairwise
from typing import Any

from quoting.estimator.money import round_cents, share_bp

Frozen = Mapping[str, Any]


@dataclass(frozen=True, kw_only=True)
class ShownAmounts:
    """In cents. They add up to the price before tax, or to the total where tax is in them."""

    with_tax: bool
    pieces: tuple[int, ...]
    extra_lines: tuple[int, ...]
    remainder: int
    discount: int


def tax_is_in_the_amounts(inputs: Frozen, result: Frozen) -> bool:
    return inputs["rates"]["tax_inclusive"] and bool(result["price"]["tax_cents"])


def shown_amounts(inputs: Frozen, result: Frozen) -> ShownAmounts:
    pieces = list(result["shares_cents"])
    extras = [line["amount_cents"] for line in inputs["offer"]["extra_lines"]]
    amounts = [*pieces, *extras, result["remainder_cents"], -result["discount_cents"]]
    with_tax = tax_is_in_the_amounts(inputs, result)
    if with_tax:
        amounts = _with_their_tax(amounts, total=result["price"]["total_cents"])
    return ShownAmounts(
        with_tax=with_tax,
        pieces=tuple(amounts[: len(pieces)]),
        extra_lines=tuple(amounts[len(pieces) : -2]),
        remainder=amounts[-2],
        discount=amounts[-1],
    )


def share_shown(cents: int, inputs: Frozen, result: Frozen) -> int:
    """The share of a piece that may not be the one that counts."""
    if not tax_is_in_the_amounts(inputs, result):
        return cents
    return cents + share_bp(cents, inputs["rates"]["tax_bp"])


def _with_their_tax(amounts: Iterable[int], *, total: int) -> list[int]:
    """Rounded where the running sum stands, so that no cent is lost; some may be negative."""
    sums = [0, *accumulate(amounts)]
    running = [round_cents(Decimal(total) * so_far / sums[-1]) for so_far in sums]
    return [after - before for before, after in pairwise(running)]
