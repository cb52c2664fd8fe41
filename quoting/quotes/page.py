"""A quote as its owner's page shows it. Templates do no sums: they are done here."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from itertools import groupby

from decor.models import Business
from quoting.estimator import PriceLine
from quoting.estimator.money import round_cents
from quoting.models import Edition, ExtraLine, Quote, RateCard
from quoting.models.quote import QuoteStage
from quoting.quotes.changes import edition_changes, latest_edition, stage_now
from quoting.quotes.checks import SendProblem, send_problems
from quoting.quotes.frozen import inputs_of
from quoting.quotes.offer import discount_label, line_cents
from quoting.quotes.page_pieces import PieceOnPage, pieces_on_page
from quoting.quotes.page_warnings import PageWarning, page_warnings
from quoting.quotes.pricing import PricedQuote, quote_priced
from quoting.rate_cards.service import newer_card_than

COST_WORDS = {
    "materials": "Balloons",
    "sundries": "Sundries",
    "kit": "Kit",
    "labour": "Work",
    "travel": "Travel",
    "overhead": "Overhead",
}


@dataclass(frozen=True, kw_only=True)
class LineOnPage:
    line: ExtraLine
    amount_cents: int


@dataclass(frozen=True, kw_only=True)
class CostGroup:
    name: str
    amount_cents: int
    lines: tuple[PriceLine, ...]


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
        return self.stage in (QuoteStage.SENT, QuoteStage.ACCEPTED)

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
    def number_after(self) -> int:
        """What the edition after the next one would be called."""
        return self.next_number + 1

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
        pieces=pieces_on_page(priced, units=business.units),
        extra_lines=tuple(
            LineOnPage(line=line, amount_cents=line_cents(line)) for line in priced.extra_lines
        ),
        costs=_cost_groups(price.cost_lines),
        steps=price.step_lines,
        kept_cents=kept,
        markup_bp=_markup_bp(kept, price.cost_cents),
        problems=send_problems(priced, business=business, today=today),
        warnings=page_warnings(priced, units=business.units),
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
