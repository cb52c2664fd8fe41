"""What differs between two offers, in the words of the owner."""

from collections.abc import Collection, Iterable, Iterator, Mapping
from datetime import date
from typing import Any

from decor.display import date_text, distance_text, money_text
from quoting.models import Edition, Quote
from quoting.models.client_page import AnswerKind
from quoting.models.quote import QuoteStage
from quoting.quotes.offer import offer_of
from quoting.quotes.spec_facts import spec_facts

Inputs = Mapping[str, Any]
Facts = dict[str, str]

ADDED = "Added: {name}"
TAKEN_OUT = "Taken out: {name}"
CHANGED = "{name} {before} → {after}"
CHANGED_TEXT = "{name} changed"
COUNTS_NOW = "Counts in the total now: {name}"
NONE = "none"
# By whether it was drawn on a photo before, and is now.
_PHOTO_WORDS = {
    (False, True): "{name}: drawn on a photo of the place",
    (True, False): "{name}: no longer drawn on a photo of the place",
    (True, True): "{name}: drawn on the photo of the place in another way",
}
_LONG_TEXTS = ("Message", "Terms")


def latest_edition(quote: Quote) -> Edition | None:
    return quote.editions.defer("pdf").order_by("-number").first()


def stage_now(quote: Quote) -> QuoteStage:
    """Found by looking: a job's date or place may change without anybody touching its quotes."""
    latest = latest_edition(quote)
    if latest is None:
        return QuoteStage.DRAFT
    answer = latest.answers.first()
    if not is_as_offered(quote, latest, chosen=answer.chosen.values() if answer else ()):
        return QuoteStage.CHANGED
    return _STAGE_ANSWERED[answer.kind] if answer else QuoteStage.SENT


_STAGE_ANSWERED = {
    AnswerKind.ACCEPTED: QuoteStage.ACCEPTED,
    AnswerKind.DECLINED: QuoteStage.DECLINED,
}


def is_as_offered(quote: Quote, edition: Edition, *, chosen: Iterable[int] = ()) -> bool:
    """Whether the draft is what was sent. Of variants those should count that were chosen, by
    their numbers; else those that counted then."""
    return _in_order(_offer_with(edition, set(chosen))) == _in_order(offer_of(quote))


def _offer_with(edition: Edition, chosen: Collection[int]) -> Inputs:
    offer = edition.inputs["offer"]
    every = [*offer["pieces"], *offer.get("variants", ())]
    by_choice = {piece["choice"]: piece for piece in every if piece["id"] in chosen}
    pieces = [by_choice.get(piece.get("choice"), piece) for piece in offer["pieces"]]
    return {**offer, "pieces": pieces, "variants": [one for one in every if one not in pieces]}


def _in_order(offer: Inputs) -> Inputs:
    """The variants beside those that count stand in no order that says anything."""
    variants = sorted(offer.get("variants", ()), key=lambda piece: piece["id"])
    return {**offer, "variants": variants}


def edition_changes(
    before: Inputs, after: Inputs, *, total_before: int, total_after: int
) -> list[str]:
    """From one edition's inputs to the next's, ending with the total."""
    business = after["business"]
    said = [
        *_pieces(before, after),
        *_extra_lines(before, after),
        *_differences(_order_facts(before, business), _order_facts(after, business)),
    ]
    if total_before != total_after:
        amounts = [money_text(cents, business["currency"]) for cents in (total_before, total_after)]
        said.append(CHANGED.format(name="Total", before=amounts[0], after=amounts[1]))
    return said


def _pieces(before: Inputs, after: Inputs) -> Iterator[str]:
    olds, news = (_by_id(_offered(inputs)) for inputs in (before, after))
    for old in olds.values():
        if old["id"] not in news:
            yield TAKEN_OUT.format(name=_named(old))
    for new in news.values():
        old = olds.get(new["id"])
        if old is None:
            yield ADDED.format(name=_named(new))
        else:
            yield from _one_piece(old, new, before=before, after=after)
    yield from _counting(before, after)
    kept_before, kept_after = [k for k in olds if k in news], [k for k in news if k in olds]
    if kept_before != kept_after:
        yield "The order of the pieces changed"


def _offered(inputs: Inputs) -> list[dict[str, Any]]:
    """Variants beside the one that counts, by letter: which of them counts is told apart."""
    offer = inputs["offer"]
    found = []
    for piece in offer["pieces"]:
        choice = piece.get("choice")
        beside = [one for one in offer.get("variants", ()) if one["choice"] == choice]
        found += sorted([piece, *beside], key=lambda one: one.get("variant", ""))
    return found


def _named(piece: Mapping[str, Any]) -> str:
    return f"{piece['title']} ({piece['variant']})" if "variant" in piece else piece["title"]


def _counting(before: Inputs, after: Inputs) -> Iterator[str]:
    """A variant that did not count before, and does now."""
    beside = {piece["id"] for piece in before["offer"].get("variants", ())}
    for piece in after["offer"]["pieces"]:
        if piece["id"] in beside:
            yield COUNTS_NOW.format(name=_named(piece))


def _one_piece(
    old: Mapping[str, Any], new: Mapping[str, Any], *, before: Inputs, after: Inputs
) -> Iterator[str]:
    units, name = after["business"]["units"], _named(new)
    if old["title"] != new["title"]:
        yield CHANGED.format(name="Title:", before=old["title"], after=new["title"])
    facts = [
        spec_facts(piece["spec"], units=units, colour_name=_names(inputs).__getitem__)
        for piece, inputs in ((old, before), (new, after))
    ]
    for said in _differences(*facts):
        yield f"{name}: {said}"
    traces = old.get("traced"), new.get("traced")
    if traces[0] != traces[1]:
        yield _PHOTO_WORDS[tuple(map(bool, traces))].format(name=name)


class _Names(dict[str, str]):
    """A colour's own name by its key; a key that no catalogue knows stands for itself."""

    def __missing__(self, key: str) -> str:
        return key


def _names(inputs: Inputs) -> _Names:
    latex = (item for item in inputs["catalogue"]["items"] if item["kind"] == "latex")
    return _Names({item["colour"]: item["name"].lower() for item in latex})


def _extra_lines(before: Inputs, after: Inputs) -> Iterator[str]:
    currency = after["business"]["currency"]
    olds, news = (_by_id(inputs["offer"]["extra_lines"]) for inputs in (before, after))
    for old in olds.values():
        if old["id"] not in news:
            yield TAKEN_OUT.format(name=old["label"])
    for new in news.values():
        old = olds.get(new["id"])
        if old is None:
            amount = money_text(new["amount_cents"], currency)
            yield ADDED.format(name=f"{new['label']}, {amount}")
            continue
        if old["label"] != new["label"]:
            yield CHANGED.format(name="Extra line:", before=old["label"], after=new["label"])
        sums = [_sum(line, currency) for line in (old, new)]
        if sums[0] != sums[1]:
            yield CHANGED.format(name=f"{new['label']}:", before=sums[0], after=sums[1])


def _sum(line: Mapping[str, Any], currency: str) -> str:
    return f"{line['quantity']} × {money_text(line['unit_cents'], currency)}"


def _by_id(rows: list[dict[str, Any]]) -> dict[int, dict[str, Any]]:
    return {row["id"]: row for row in rows}


def _order_facts(inputs: Inputs, business: Mapping[str, Any]) -> Facts:
    offer, units = inputs["offer"], business["units"]
    job, site, discount = offer["job"], offer["site"] or {}, offer["discount"]
    off = money_text(discount["cents"], business["currency"]) if discount["cents"] else ""
    return {
        "Client": offer["client"]["name"],
        "Job": job["title"],
        "Date": _day(job["event_on"]),
        "Time": job["event_time"] or NONE,
        "Place": site.get("name", NONE),
        "Address": site.get("address", "") or NONE,
        "Distance": distance_text(site.get("distance_m") or 0, units),
        "Drive": f"{site.get('drive_minutes') or 0} min",
        "Discount": " ".join(word for word in (discount["label"], off) if word) or NONE,
        "Outside usual hours": _yes(offer["is_outside_hours"]),
        "Taking down": _yes(offer["includes_strike"]),
        "Good until": _day(offer["expires_on"]),
        "Rate card": str(offer["rate_card"]),
        "Message": offer["message"],
        "Terms": offer["terms"],
    }


def _differences(before: Facts, after: Facts) -> Iterator[str]:
    for name in {**before, **after}:
        old, new = before.get(name, NONE), after.get(name, NONE)
        if old != new and name in _LONG_TEXTS:
            yield CHANGED_TEXT.format(name=name)
        elif old != new:
            yield CHANGED.format(name=name, before=old, after=new)


def _day(day: str | None) -> str:
    return date_text(date.fromisoformat(day)) if day else NONE


def _yes(value: bool) -> str:
    return "yes" if value else "no"
