"""What the client's quote says, made from an edition's frozen inputs and result alone.

Nothing here looks anything up, so an edition says the same for ever. Of the result only prices
and payments are read: cost, hours, margin and stock never reach a client.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, time
from typing import Any

from django.utils.dateformat import time_format

from decor.display import date_text, money_text
from decor.documents.letterhead import letterhead
from quoting.calling_off.bands import bands_in_words
from quoting.documents.pieces import PAPER, Medium, document_pieces
from quoting.documents.price import by_choice, document_price
from quoting.documents.safety import SAFETY_NOTES
from quoting.estimator import rates_from_dict
from quoting.pieces.words import said

TEMPLATE = "quoting/documents/quote.html"
MOST_LINES = 40
TOO_MANY_LINES = f"A quote has room for {MOST_LINES} pieces and extra lines."
PREVIEW = "Preview: this has not been sent"
READ_IT = "The right place, day, size, colours? If not, ask: you then get a new edition."
READ_AND_CHOOSE = "{choices} The right place, day, size, colours? If not, ask for a new edition."
CHOOSE = "Choose {letters} of {title}."
NAMES_NONE = "Name what you choose; if you name nothing, you get what the total counts: {counted}."


class TooManyLines(ValueError):
    """Typesetting time grows with every line, so their number is capped."""


@dataclass(frozen=True)
class Fact:
    name: str
    text: str
    more: str = ""


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
    medium: Medium = PAPER,
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
        "business": letterhead(inputs["business"]),
        "client_name": offer["client"]["name"],
        "job": offer["job"],
        "facts": words.facts(),
        "since": inputs["since"],
        "message": offer["message"],
        "pieces": document_pieces(inputs, result, medium=medium),
        "price": document_price(inputs, result),
        "steps": words.steps(edition),
        "safety_notes": SAFETY_NOTES,
        "calling_off": bands_in_words(rates_from_dict(inputs["rates"]).calling_off),
        "terms": [line for line in offer["terms"].splitlines() if line.strip()],
    }


class _Words:
    def __init__(self, inputs: Mapping[str, Any], result: Mapping[str, Any]) -> None:
        self.inputs, self.result = inputs, result
        self.offer = inputs["offer"]
        self.choices = by_choice(result)
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

    def steps(self, edition: int | None) -> list[Step]:
        reads = READ_IT
        if self.choices:
            reads = READ_AND_CHOOSE.format(choices=" ".join(map(_choose, self.choices)))
        return [
            Step("Read it through" + (" and choose" if self.choices else ""), reads),
            Step(f"Say yes by {self.expires}", self._say_yes(edition)),
            self._pay(),
        ]

    def _say_yes(self, edition: int | None) -> str:
        how = self.inputs["business"]["how_to_accept"] or self._how(edition)
        if not self.choices:
            return how
        counted = said([_counted(options) for options in self.choices])
        return f"{how} {NAMES_NONE.format(counted=counted)}"

    def _how(self, edition: int | None) -> str:
        business = self.inputs["business"]
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


def _choose(options: list[Mapping[str, Any]]) -> str:
    letters = [option["variant"] for option in options]
    title = next(option["title"] for option in options if option["counts"])
    return CHOOSE.format(letters=f"{', '.join(letters[:-1])} or {letters[-1]}", title=title)


def _counted(options: list[Mapping[str, Any]]) -> str:
    counting = next(option for option in options if option["counts"])
    return f"{counting['variant']} of {counting['title']}"
