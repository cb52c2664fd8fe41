"""What the client's quote says, made from an edition's frozen inputs and result alone.

Nothing here looks anything up, so an edition says the same for ever. Of the result only prices
and payments are read: cost, hours, margin and stock never reach a client.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, time
from typing import Any

from django.utils.dateformat import time_format

from decor.display import date_text, money_text, percent_text
from decor.documents.fetcher import media_url
from quoting.documents.measures import Measure, measures_of
from quoting.documents.safety import SAFETY_NOTES
from quoting.documents.shape_drawing import ShapeDrawing, shape_drawing
from quoting.estimator import spec_from_dict

TEMPLATE = "quoting/documents/quote.html"
MOST_LINES = 40
TOO_MANY_LINES = f"A quote has room for {MOST_LINES} pieces and extra lines."
PREVIEW = "Preview: this has not been sent"
REMAINDER = "Minimum order, timing and rounding"
WHOLE_SUM_NOTE = "If you accept after {day}, the whole amount is due then."


class TooManyLines(ValueError):
    """Typesetting time grows with every line, so their number is capped."""


@dataclass(frozen=True)
class Fact:
    name: str
    text: str
    more: str = ""


@dataclass(frozen=True)
class DocumentPiece:
    title: str
    words: str
    share_text: str
    palette: tuple[Mapping[str, str], ...]
    measures: tuple[Measure, ...]
    drawing: ShapeDrawing


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


@dataclass(frozen=True)
class Step:
    title: str
    text: str


def quote_document(
    inputs: Mapping[str, Any],
    result: Mapping[str, Any],
    *,
    edition: int | None,
    made_on: date | None,
) -> dict[str, Any]:
    """The template's context. `edition` None: a preview."""
    offer = inputs["offer"]
    if len(offer["pieces"]) + len(offer["extra_lines"]) > MOST_LINES:
        raise TooManyLines(TOO_MANY_LINES)
    words = _Words(inputs, result)
    name = f"Quote {offer['number']}" + (f", edition {edition}" if edition else "")
    return {
        "document_title": f"{name}: {offer['job']['title']}",
        "name": name,
        "made_on": made_on,
        "made_on_text": date_text(made_on) if made_on else "",
        "state": "" if edition else PREVIEW,
        "business": _letterhead(inputs["business"]),
        "client_name": offer["client"]["name"],
        "job": offer["job"],
        "facts": words.facts(),
        "message": offer["message"],
        "pieces": words.pieces(),
        "price": words.price(),
        "steps": words.steps(edition),
        "safety_notes": SAFETY_NOTES,
        "terms": [line for line in offer["terms"].splitlines() if line.strip()],
    }


def _letterhead(business: Mapping[str, Any]) -> dict[str, str]:
    reach = (business["phone"], business["email"], business["address"])
    return {
        "name": business["name"],
        "strapline": business["strapline"],
        "logo_url": media_url(business["logo"]) if business["logo"] else "",
        "reach": "\n".join(line for line in reach if line),
    }


class _Words:
    def __init__(self, inputs: Mapping[str, Any], result: Mapping[str, Any]) -> None:
        self.inputs, self.result = inputs, result
        self.offer = inputs["offer"]
        self.units = inputs["business"]["units"]
        self.expires = date_text(date.fromisoformat(self.offer["expires_on"]))

    def money(self, cents: int) -> str:
        return money_text(cents, self.inputs["business"]["currency"])

    def facts(self) -> list[Fact]:
        job, site = self.offer["job"], self.offer["site"]
        facts = [Fact("For", self.offer["client"]["name"])]
        if job["event_on"]:
            at = job["event_time"]
            hour = f"at {time_format(time.fromisoformat(at), 'P')}" if at else ""
            facts.append(Fact("When", date_text(date.fromisoformat(job["event_on"])), hour))
        if site:
            facts.append(Fact("Where", site["name"], site["address"]))
        return [*facts, Fact("Good until", self.expires)]

    def pieces(self) -> list[DocumentPiece]:
        parts = self.offer["pieces"], self.inputs["in_words"], self.result["shares_cents"]
        return [self._piece(*each) for each in zip(*parts, strict=True)]

    def _piece(
        self, piece: Mapping[str, Any], said: Mapping[str, Any], cents: int
    ) -> DocumentPiece:
        spec = spec_from_dict(piece["spec"])
        return DocumentPiece(
            title=piece["title"],
            words=said["words"],
            share_text=self.money(cents),
            palette=tuple(said["palette"]),
            measures=measures_of(spec, units=self.units),
            drawing=shape_drawing(spec, units=self.units, title=f"Outline of {piece['title']}"),
        )

    def price(self) -> dict[str, Any]:
        price = self.result["price"]
        tax = bool(price["tax_cents"])
        return {
            "column": "Before tax" if tax else "Amount",
            "lines": [*self._lines(), *(self._tax_lines() if tax else ())],
            "tax_note": "with tax" if tax else "",
            "total_text": self.money(price["total_cents"]),
            "dues": list(self._dues()),
            "due_note": self._due_note(),
        }

    def _lines(self) -> Iterator[PriceRow]:
        result = self.result
        for piece, cents in zip(self.offer["pieces"], result["shares_cents"], strict=True):
            yield PriceRow(piece["title"], self.money(cents))
        for extra in self.offer["extra_lines"]:
            each = ""
            if extra["quantity"] > 1:
                each = f"{extra['quantity']} × {self.money(extra['unit_cents'])}"
            yield PriceRow(extra["label"], self.money(extra["amount_cents"]), each)
        if result["remainder_cents"]:
            yield PriceRow(REMAINDER, self.money(result["remainder_cents"]))
        if result["discount_cents"]:
            yield PriceRow(self.offer["discount"]["label"], self.money(-result["discount_cents"]))

    def _tax_lines(self) -> Iterator[PriceRow]:
        price = self.result["price"]
        rate = percent_text(self.inputs["rates"]["tax_bp"])
        yield PriceRow("Sum before tax", self.money(price["net_cents"]))
        yield PriceRow(f"Tax at {rate}", self.money(price["tax_cents"]))

    def _dues(self) -> Iterator[Due]:
        plan = self.result["payment"]
        deposit, balance = plan["deposit_cents"], plan["balance_cents"]
        if deposit:
            name = "Deposit" if balance else "To pay in full"
            yield Due(name, self.money(deposit), f"when you accept, by {self.expires}")
        if balance:
            yield Due("Balance", self.money(balance), f"by {self._balance_day()}")

    def _balance_day(self) -> str:
        return date_text(date.fromisoformat(self.result["payment"]["balance_on"]))

    def _due_note(self) -> str:
        plan = self.result["payment"]
        is_late = plan["balance_on"] and self.offer["expires_on"] > plan["balance_on"]
        if not (is_late and plan["balance_cents"]):
            return ""
        return WHOLE_SUM_NOTE.format(day=self._balance_day())

    def steps(self, edition: int | None) -> list[Step]:
        return [
            Step(
                "Read it through",
                "The right place, day, size, colours? If not, ask: you then get a new edition.",
            ),
            Step(f"Say yes by {self.expires}", self._say_yes(edition)),
            self._pay(),
        ]

    def _say_yes(self, edition: int | None) -> str:
        business = self.inputs["business"]
        if business["how_to_accept"]:
            return business["how_to_accept"]
        ways = [f"write to {business['email']}"] if business["email"] else []
        ways += [f"call {business['phone']}"] if business["phone"] else []
        how = " or ".join(ways) or "tell us"
        which = self.offer["number"] + (f", edition {edition}" if edition else "")
        return f"{how[0].upper()}{how[1:]}, and say that you accept {which}."

    def _pay(self) -> Step:
        deposit = self.result["payment"]["deposit_cents"]
        if not deposit:
            return Step("Your day is kept", "From the moment you accept.")
        reference = f"Put {self.offer['number']} with the payment."
        return Step(f"Pay {self.money(deposit)}", f"{reference} Your day is kept once it arrives.")
