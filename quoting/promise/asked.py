"""What an edition takes of the shelf and of the day, of the variants that were chosen. From what
was frozen alone: a draft that has changed since is none of the client's business."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import ceil
from typing import Any

from quoting.covering.demand import Asked, Demand, balloons_asked, demand_of, sundry_asked
from quoting.estimator import Spec, rates_from_dict, spec_from_dict
from quoting.estimator.hours import elapsed_hours
from quoting.models import Edition, Piece
from quoting.quotes.combinations import Chosen

MAKING = frozenset({"inflate and tie", "twist clusters", "mini-clusters", "starbursts", "pack"})
HANGING = frozenset({"hang", "check and fill"})
STRIKING = frozenset({"strike"})
SECONDS_PER_HOUR = 3600
ROUNDED_TO_MINUTES = 5  # a planning figure knows no better


@dataclass(frozen=True)
class ChosenPiece:
    """A piece as offered and its estimate, both as frozen."""

    offered: Mapping[str, Any]
    made: Mapping[str, Any]

    @property
    def piece(self) -> Piece:
        """To name it by; what is in the draft now may be another, or nothing."""
        return Piece(pk=self.offered["id"], title=self.offered["title"])


@dataclass(frozen=True, kw_only=True)
class HoursAsked:
    """`making` is of one person, the others are of the clock, with `people` at the place."""

    making_minutes: int
    install_minutes: int
    strike_minutes: int
    people: int


def chosen_pieces(edition: Edition, chosen: Chosen) -> Iterator[ChosenPiece]:
    offer, result = edition.inputs["offer"], edition.result
    offered = {piece["id"]: piece for piece in (*offer["pieces"], *offer.get("variants", ()))}
    estimates = {option["id"]: option.get("estimate") for option in result["variants"]}
    for piece, counted in zip(offer["pieces"], result["estimates"], strict=True):
        pk = chosen.get(piece.get("choice"), piece["id"])
        yield ChosenPiece(offered[pk], estimates.get(pk) or counted)


def edition_demand(edition: Edition, chosen: Chosen) -> Demand:
    return demand_of(
        (piece.piece, asked)
        for piece in chosen_pieces(edition, chosen)
        for asked in _asked_for(piece.made)
    )


def _asked_for(made: Mapping[str, Any]) -> Iterator[Asked]:
    for line in made["balloons"]:
        yield balloons_asked(line["kind"], line["colour"], line["nominal_in"], line["total"])
    for sundry in made["sundries"]:
        yield sundry_asked(sundry["item"], sundry["quantity"], sundry["unit"])


def hours_asked(edition: Edition, chosen: Chosen) -> HoursAsked:
    """By the unit times of the rates that the edition was priced with."""
    pieces = list(chosen_pieces(edition, chosen))
    times = rates_from_dict(edition.inputs["rates"]).unit_times
    people = max((spec.crew for spec in specs_asked(edition, chosen)), default=1)
    hanging, striking = _hours(pieces, HANGING), _hours(pieces, STRIKING)
    if hanging:
        hanging += times.unload_s / SECONDS_PER_HOUR
    return HoursAsked(
        making_minutes=_minutes(_hours(pieces, MAKING)),
        install_minutes=_minutes(elapsed_hours(hanging, people, times)),
        strike_minutes=_minutes(elapsed_hours(striking, people, times)),
        people=people,
    )


def specs_asked(edition: Edition, chosen: Chosen) -> list[Spec]:
    return [spec_from_dict(piece.offered["spec"]) for piece in chosen_pieces(edition, chosen)]


def _hours(pieces: list[ChosenPiece], phases: frozenset[str]) -> float:
    lines = (line for piece in pieces for line in piece.made["labour"])
    return sum(line["person_hours"] for line in lines if line["phase"] in phases)


def _minutes(hours: float) -> int:
    """Up, as who comes five minutes late is late. First to what a float can tell apart."""
    return ROUNDED_TO_MINUTES * ceil(round(hours * 60 / ROUNDED_TO_MINUTES, 6))
