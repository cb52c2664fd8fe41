"""What a job is made of: the pieces the client accepted, else those of the quote that is meant."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from decor.models import Job
from inventory.catalogue.service import estimator_catalogue
from quoting.estimator import (
    Catalogue,
    Estimate,
    Rates,
    SpecError,
    catalogue_from_dict,
    estimate,
    example_rates,
    rates_from_dict,
    spec_from_dict,
)
from quoting.models import ClientAnswer, Edition, Quote
from quoting.models.client_page import AnswerKind
from quoting.quotes.agreed import quote_agreed
from quoting.quotes.changes import latest_edition

NO_QUOTE = "There is no quote that says what to make. Start one from the job."
WHICH_QUOTE = "This job has several quotes. The sheet is made from the one that is promised."
NOT_DESCRIBED = "“{piece}” is not described yet, so nobody can say how it is made."


@dataclass(frozen=True, kw_only=True)
class PieceToMake:
    pk: int
    title: str
    estimate: Estimate


@dataclass(frozen=True, kw_only=True)
class Pieces:
    """`source` says what they are from; `problems` what is missing, and why."""

    pieces: tuple[PieceToMake, ...] = ()
    source: str = ""
    rates: Rates
    problems: tuple[str, ...] = ()


def pieces_to_make(job: Job) -> Pieces:
    quote = quote_agreed(job)
    if quote is None:
        problem = WHICH_QUOTE if job.quotes.exists() else NO_QUOTE
        return Pieces(rates=example_rates(), problems=(problem,))
    answer = (
        ClientAnswer.objects.filter(edition__quote=quote, kind=AnswerKind.ACCEPTED)
        .select_related("edition__quote")
        .defer("edition__pdf")
        .last()
    )
    if answer is not None:
        return _sent(answer.edition, answer.chosen, words="as accepted")
    latest = latest_edition(quote)
    return _sent(latest, {}) if latest and _is_as_sent(quote, latest) else _drafted(quote)


def _is_as_sent(quote: Quote, edition: Edition) -> bool:
    """Then it is made as it was reckoned at sending: what is lost since does not change it."""
    sent = [(piece["id"], piece["spec"]) for piece in edition.inputs["offer"]["pieces"]]
    return sent == list(quote.pieces.filter(counts=True).values_list("pk", "spec"))


def _sent(edition: Edition, chosen: Mapping[str, Any], *, words: str = "") -> Pieces:
    offer = edition.inputs["offer"]
    said = f"{offer['number']}, edition {edition.number}"
    return _made(
        [(piece["id"], piece["title"], piece["spec"]) for piece in _chosen(offer, chosen)],
        source=f"{said}, {words}" if words else said,
        catalogue=catalogue_from_dict(edition.inputs["catalogue"]),
        rates=rates_from_dict(edition.inputs["rates"]),
    )


def _chosen(offer: Mapping[str, Any], chosen: Mapping[str, Any]) -> Iterator[Mapping[str, Any]]:
    every = {piece["id"]: piece for piece in (*offer["pieces"], *offer.get("variants", ()))}
    for piece in offer["pieces"]:
        wanted = chosen.get(str(piece.get("choice")))
        yield every.get(wanted, piece)


def _drafted(quote: Quote) -> Pieces:
    return _made(
        [(piece.pk, piece.title, piece.spec) for piece in quote.pieces.filter(counts=True)],
        source=quote.number,
        catalogue=estimator_catalogue(),
        rates=quote.rate_card.as_rates(),
    )


def _made(
    described: list[tuple[int, str, Any]], *, source: str, catalogue: Catalogue, rates: Rates
) -> Pieces:
    pieces, problems = [], []
    for pk, title, data in described:
        try:
            spec = spec_from_dict(data or {})
            made = estimate(spec, catalogue=catalogue, rates=rates)
        except SpecError:
            problems.append(NOT_DESCRIBED.format(piece=title))
            continue
        pieces.append(PieceToMake(pk=pk, title=title, estimate=made))
    return Pieces(pieces=tuple(pieces), source=source, rates=rates, problems=tuple(problems))
