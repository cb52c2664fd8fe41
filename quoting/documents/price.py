"""The price of a quote as its document says it, from its frozen result."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from decor.display import date_text, money_text, percent_text
from quoting.documents.pieces import more_text
from quoting.documents.shown_amounts import shown_amounts

Frozen = Mapping[str, Any]

REMAINDER = "Minimum order, timing and rounding"
WHOLE_SUM_NOTE = "If you accept after {day}, the whole amount is due then."
TOTAL_COUNTS = "The total counts {letter} of {title}. {others}"
TOTAL_WITH = "With {letter} it is {total}, {more}."
TAX_INSIDE = "Of the total, {tax} is tax at {rate}."
FOLLOWS = "Deposit and balance follow the total of what you choose."
ONE_AT_A_TIME = "Each is said with all else as counted: choose several and we tell you the sum."


@dataclass(frozen=True)
class PriceRow:
    label: str
    text: str
    each: str = ""


@dataclass(frozen=True)
class Due:
    name: str
    text: str
    when: str


def document_price(inputs: Frozen, result: Frozen) -> dict[str, Any]:
    words = _Price(inputs, result)
    price = result["price"]
    tax, inside = bool(price["tax_cents"]), words.amounts.with_tax
    added = tax and not inside
    return {
        "column": "Before tax" if added else "With tax" if inside else "Amount",
        "lines": [*words.lines(), *(words.tax_lines() if added else ())],
        "tax_note": "with tax" if tax else "",
        "share_note": "before tax" if added else "",
        "tax_inside": words.tax_inside() if inside else "",
        "total_text": words.money(price["total_cents"]),
        "choices": list(words.choices()),
        "dues": list(words.dues()),
        "due_note": words.due_note(),
    }


def by_choice(result: Frozen) -> list[list[Frozen]]:
    """The frozen variants, those of one thing together."""
    found: dict[int, list[Frozen]] = {}
    for option in result["variants"]:
        found.setdefault(option["choice"], []).append(option)
    return list(found.values())


class _Price:
    def __init__(self, inputs: Frozen, result: Frozen) -> None:
        self.inputs, self.result, self.offer = inputs, result, inputs["offer"]
        self.currency = inputs["business"]["currency"]
        self.amounts = shown_amounts(inputs, result)

    def money(self, cents: int) -> str:
        return money_text(cents, self.currency)

    def lines(self) -> Iterator[PriceRow]:
        amounts = self.amounts
        for piece, cents in zip(self.offer["pieces"], amounts.pieces, strict=True):
            letter = f"{piece['variant']}: " if "variant" in piece else ""
            yield PriceRow(f"{letter}{piece['title']}", self.money(cents))
        for extra, cents in zip(self.offer["extra_lines"], amounts.extra_lines, strict=True):
            yield PriceRow(extra["label"], self.money(cents), self._each(extra))
        if amounts.remainder:
            yield PriceRow(REMAINDER, self.money(amounts.remainder))
        if amounts.discount:
            yield PriceRow(self.offer["discount"]["label"], self.money(amounts.discount))

    def _each(self, extra: Frozen) -> str:
        """The price of one is kept before tax: with it, whole cents times many may not agree."""
        if extra["quantity"] == 1:
            return ""
        if self.amounts.with_tax:
            return f"× {extra['quantity']}"
        return f"{extra['quantity']} × {self.money(extra['unit_cents'])}"

    def tax_inside(self) -> str:
        rate = percent_text(self.inputs["rates"]["tax_bp"])
        tax = self.money(self.result["price"]["tax_cents"])
        return TAX_INSIDE.format(rate=rate, tax=tax)

    def tax_lines(self) -> Iterator[PriceRow]:
        price = self.result["price"]
        rate = percent_text(self.inputs["rates"]["tax_bp"])
        yield PriceRow("Sum before tax", self.money(price["net_cents"]))
        yield PriceRow(f"Tax at {rate}", self.money(price["tax_cents"]))

    def choices(self) -> Iterator[str]:
        """Which variant the total counts, and what it is with each of the others."""
        choices = by_choice(self.result)
        for options in choices:
            counting = next(option for option in options if option["counts"])
            others = [self._total_with(option) for option in options if not option["counts"]]
            yield TOTAL_COUNTS.format(
                letter=counting["variant"], title=counting["title"], others=" ".join(others)
            )
        if choices:
            yield f"{ONE_AT_A_TIME} {FOLLOWS}" if len(choices) > 1 else FOLLOWS

    def _total_with(self, option: Frozen) -> str:
        return TOTAL_WITH.format(
            letter=option["variant"],
            total=self.money(option["total_cents"]),
            more=more_text(option["more_cents"], self.currency),
        )

    def dues(self) -> Iterator[Due]:
        plan = self.result["payment"]
        deposit, balance = plan["deposit_cents"], plan["balance_cents"]
        expires = date_text(date.fromisoformat(self.offer["expires_on"]))
        if deposit:
            name = "Deposit" if balance else "To pay in full"
            yield Due(name, self.money(deposit), f"when you accept, by {expires}")
        if balance:
            yield Due("Balance", self.money(balance), f"by {self._balance_day()}")

    def _balance_day(self) -> str:
        return date_text(date.fromisoformat(self.result["payment"]["balance_on"]))

    def due_note(self) -> str:
        plan = self.result["payment"]
        is_late = plan["balance_on"] and self.offer["expires_on"] > plan["balance_on"]
        if not (is_late and plan["balance_cents"]):
            return ""
        return WHOLE_SUM_NOTE.format(day=self._balance_day())
