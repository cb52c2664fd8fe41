"""One short line for the client: what is other than in the edition before.

Only what a client sees on paper: a change of rates or spares shows as a total, if at all.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any

from decor.display import money_text
from quoting.documents.client_facts import client_facts
from quoting.estimator import catalogue_from_dict, spec_from_dict
from quoting.models import Edition
from quoting.pieces.words import said

Frozen = Mapping[str, Any]

SINCE = "Since edition {number}: {changes}."
TOTAL = "the total is {after} instead of {before}"
MOST_NAMED = 3
_ORDER: tuple[tuple[str, Callable[[Frozen], Any]], ...] = (
    ("the day", lambda offer: (offer["job"]["event_on"], offer["job"]["event_time"])),
    ("the place", lambda offer: _place(offer["site"])),
    ("the discount", lambda offer: offer["discount"]),
    ("taking down", lambda offer: offer["includes_strike"]),
    ("the day it is good until", lambda offer: offer["expires_on"]),
    ("the terms", lambda offer: offer["terms"]),
)


def since_line(latest: Edition, inputs: Frozen, result: Frozen) -> str:
    """Empty where a client would see no difference."""
    changes = list(_changes(latest.inputs, inputs))
    totals = latest.total_cents, result["price"]["total_cents"]
    if totals[0] != totals[1]:
        currency = inputs["business"]["currency"]
        before, after = (money_text(cents, currency) for cents in totals)
        changes.append(TOTAL.format(before=before, after=after))
    return SINCE.format(number=latest.number, changes="; ".join(changes)) if changes else ""


def _changes(before: Frozen, after: Frozen) -> Iterator[str]:
    olds, news = _seen(before), _seen(after)
    changed = [name for key, (name, seen) in news.items() if key in olds and olds[key][1] != seen]
    changed += [name for name, of in _ORDER if of(before["offer"]) != of(after["offer"])]
    groups = {
        "added": [name for key, (name, _) in news.items() if key not in olds],
        "taken out": [name for key, (name, _) in olds.items() if key not in news],
        "changed": changed,
    }
    for word, names in groups.items():
        if names:
            yield f"{word} {_listed(names)}"


def _seen(inputs: Frozen) -> dict[tuple[str, int], tuple[str, Any]]:
    """By what it is: its name, and all that its reader sees of it."""
    offer = inputs["offer"]
    counting = {piece["id"] for piece in offer["pieces"]}
    catalogue, units = catalogue_from_dict(inputs["catalogue"]), inputs["business"]["units"]
    pieces = {}
    for piece in (*offer["pieces"], *offer.get("variants", ())):
        facts = client_facts(spec_from_dict(piece["spec"]), catalogue=catalogue, units=units)
        name = piece["title"] + (f" ({piece['variant']})" if "variant" in piece else "")
        shown = (piece["title"], facts, piece.get("traced"), piece["id"] in counting)
        pieces["piece", piece["id"]] = (name, shown)
    lines = {("line", line["id"]): (line["label"], line) for line in offer["extra_lines"]}
    return pieces | lines


def _place(site: Frozen | None) -> tuple[str, str] | None:
    return (site["name"], site["address"]) if site else None


def _listed(names: Iterable[str]) -> str:
    names = list(names)
    more = len(names) - MOST_NAMED
    if more > 0:
        return f"{', '.join(names[:MOST_NAMED])} and {more} more"
    return said(names)
