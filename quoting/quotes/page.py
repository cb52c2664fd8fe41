"""A quote as its owner's page shows it. Templates do no sums: they are done here."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from itertools import groupby

from decor.models import Business
from quoting.estimator import Catalogue, PriceLine
from quoting.estimator.cautions import Severity
from quoting.estimator.money import round_cents
from quoting.models import Edition, ExtraLine, Quote, RateCard
from quoting.models.quote import QuoteStage
from quoting.pieces.words import Swatch, palette_of, piece_in_words
from quoting.quotes.changes import edition_changes, latest_edition, stage_now
from quoting.quotes.checks import PIECE_IS_BEHIND, SendProblem, send_problems
from quoting.quotes.frozen import inputs_of
from quoting.quotes.offer import discount_label, line_cents
from quoting.quotes.pricing import PricedPiece, PricedQuote, quote_priced
from quoting.rate_cards.service import newer_card_than

COST_WORDS = {
    "materials": "Balloons",
    "sundries": "Sundries",
    "kit": "Kit",
    "labour": "Work",
    "travel": "Travel",
    "overhead": "Overhead",
}
NO_DISTANCE = (
    "The price has no travel in it, as nobody wrote down how far the place is. "
    "You can do so on the job's page, under the place."
)
NO_PLACE = "The job has no place yet, so the price has no travel in it and the quote says no place."
UNDER_MARGIN = "After the discount less is left than the margin of your rate card."


@dataclass(frozen=True, kw_only=True)
class PieceOnPage:
    pk: int
    title: str
    words: str
    palette: tuple[Swatch, ...]
    share_cents: int | None
    problem: str


@dataclass(frozen=True, kw_only=True)
class LineOnPage:
    line: ExtraLine
    amount_cents: int


@dataclass(frozen=True, kw_only=True)
class CostGroup:
    name: str
    amount_cents: int
    lines: tuple[PriceLine, ...]


@dataclass(frozen=True)
class PageWarning:
    text: str
    is_grave: bool = False


@dataclass(frozen=True, kw_only=True)
class QuotePage:
    """`changes` is against the latest edition; None where nothing was sent yet."""

    quote: Quote
    priced: PricedQuote
    pieces: tuple[PieceOnPage, ...]
    extra_lines: tuple[LineOnPage, ...]
    costs: tuple[CostGroup, ...]
    steps: tuple[PriceLine, ...]
    kept_cents: int
    markup_bp: int
    problems: tuple[SendProblem, ...]
    warnings: tuple[PageWarning, ...]
    newer_card: RateCard | None
    editions: tuple[Edition, ...]
    changes: tuple[str, ...] | None
    stage: QuoteStage

    @property
    def is_up_to_date(self) -> bool:
        return self.stage == QuoteStage.SENT

    @property
    def has_price(self) -> bool:
        """Before that, a price would be the minimum order for nothing."""
        return bool(self.extra_lines) or any(piece.estimate for piece in self.priced.pieces)

    @property
    def latest(self) -> Edition | None:
        return self.editions[0] if self.editions else None

    @property
    def next_number(self) -> int:
        return self.latest.number + 1 if self.latest else 1

    @property
    def discount_label(self) -> str:
        return discount_label(self.quote)

    def problems_at(self, where: str) -> tuple[str, ...]:
        return tuple(problem.message for problem in self.problems if problem.where == where)

    @property
    def job_problems(self) -> tuple[str, ...]:
        return self.problems_at("job")

    @property
    def lines_problems(self) -> tuple[str, ...]:
        return self.problems_at("pieces")

    @property
    def conditions_problems(self) -> tuple[str, ...]:
        return self.problems_at("conditions")

    @property
    def discount_problems(self) -> tuple[str, ...]:
        return self.problems_at("discount")

    @property
    def rates_problems(self) -> tuple[str, ...]:
        return self.problems_at("rates")


def quote_page(quote: Quote, *, business: Business, today: date) -> QuotePage:
    priced = quote_priced(quote, today=today)
    editions = tuple(quote.editions.defer("pdf", "result").order_by("-number"))
    changes = changes_since_sent(priced, business=business)
    price = priced.price
    kept = price.net_cents - price.cost_cents
    newer = newer_card_than(quote.rate_card, on=today)
    return QuotePage(
        quote=quote,
        priced=priced,
        pieces=tuple(
            _piece(piece, priced.catalogue, units=business.units) for piece in priced.pieces
        ),
        extra_lines=tuple(
            LineOnPage(line=line, amount_cents=line_cents(line)) for line in priced.extra_lines
        ),
        costs=_cost_groups(price.cost_lines),
        steps=price.step_lines,
        kept_cents=kept,
        markup_bp=_markup_bp(kept, price.cost_cents),
        problems=send_problems(priced, business=business, today=today),
        warnings=(*_cautions(priced, business.units), *_price_warnings(priced)),
        newer_card=newer,
        editions=editions,
        changes=changes,
        stage=stage_now(quote),
    )


def changes_since_sent(priced: PricedQuote, *, business: Business) -> tuple[str, ...] | None:
    """In words, against the latest edition; None where nothing was sent, or not all is priced."""
    latest = latest_edition(priced.quote)
    if latest is None or not priced.is_whole:
        return None
    changes = edition_changes(
        latest.inputs,
        inputs_of(priced, business=business),
        total_before=latest.total_cents,
        total_after=priced.price.total_cents,
    )
    return tuple(changes)


def _piece(priced: PricedPiece, catalogue: Catalogue, *, units: str) -> PieceOnPage:
    piece, estimate = priced.piece, priced.estimate
    behind = PIECE_IS_BEHIND if piece.spec_is_behind else ""
    return PieceOnPage(
        pk=piece.pk,
        title=piece.title,
        words=piece_in_words(estimate.spec, units=units, catalogue=catalogue) if estimate else "",
        palette=palette_of(estimate.spec, catalogue) if estimate else (),
        share_cents=priced.share_cents if estimate else None,
        problem=priced.problem or behind,
    )


def _cost_groups(lines: Sequence[PriceLine]) -> tuple[CostGroup, ...]:
    order = list(COST_WORDS)
    in_order = sorted(lines, key=lambda line: order.index(line.kind))
    by_kind = groupby(in_order, key=lambda line: line.kind)
    groups = ((kind, tuple(group)) for kind, group in by_kind)
    return tuple(
        CostGroup(
            name=COST_WORDS[kind],
            amount_cents=sum(line.amount_cents for line in group),
            lines=group,
        )
        for kind, group in groups
    )


def _markup_bp(kept_cents: int, cost_cents: int) -> int:
    """The same gain as a share of cost, which is what markup means."""
    return round_cents(Decimal(kept_cents) * 10_000 / cost_cents) if cost_cents else 0


def _cautions(priced: PricedQuote, units: str) -> Iterator[PageWarning]:
    """Each once, though several pieces may give it."""
    said = {caution.said(units): caution.severity for caution in priced.cautions}
    for text, severity in said.items():
        yield PageWarning(text, is_grave=severity is Severity.STOP)


def _price_warnings(priced: PricedQuote) -> Iterator[PageWarning]:
    site = priced.quote.job.site
    if site is None:
        yield PageWarning(NO_PLACE)
    elif site.distance_m is None:
        yield PageWarning(NO_DISTANCE)
    if priced.discount_cents and priced.price.margin_bp < priced.rates.margin_bp:
        yield PageWarning(UNDER_MARGIN)
