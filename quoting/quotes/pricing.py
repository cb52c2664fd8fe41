"""A quote's pieces estimated and the whole of it priced, as it stands today."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cached_property

from decor.models import Job
from inventory.catalogue.service import estimator_catalogue
from quoting.estimator import (
    Catalogue,
    Discount,
    Estimate,
    ExtraLine,
    OrderConditions,
    Price,
    Rates,
    SpecError,
    estimate,
    price_order,
    share_net_among,
)
from quoting.estimator.cautions import Caution
from quoting.models import ExtraLine as QuoteLine
from quoting.models import Piece, Quote
from quoting.models.quote import DiscountKind
from quoting.pieces.specs import piece_spec
from quoting.quotes.offer import discount_label, line_cents
from quoting.quotes.payments import PaymentPlan, payment_plan

NOT_DESCRIBED = "This piece is not described yet: choose at least its shape and colours."


@dataclass(frozen=True, kw_only=True)
class PricedPiece:
    """`problem` says why there is no estimate; `share_cents` is its part of the net price."""

    piece: Piece
    estimate: Estimate | None
    problem: str = ""
    share_cents: int = 0


@dataclass(frozen=True, kw_only=True)
class PricedVariant:
    """A variant that does not count now: price, plan and share are the quote's if it did."""

    piece: Piece
    estimate: Estimate | None
    problem: str = ""
    share_cents: int = 0
    price: Price | None = None
    plan: PaymentPlan | None = None

    @property
    def total_cents(self) -> int | None:
        return self.price.total_cents if self.price else None


@dataclass(frozen=True, kw_only=True)
class PricedQuote:
    """Pieces, extra lines, remainder and discount add up to the net price.

    `pieces` are those that count; `variants` are the others one could have in their place.
    `remainder_cents` is what no piece can carry: a minimum order or rounding of a quote that
    has extra lines only.
    """

    quote: Quote
    rates: Rates
    catalogue: Catalogue
    conditions: OrderConditions
    pieces: tuple[PricedPiece, ...]
    variants: tuple[PricedVariant, ...]
    extra_lines: tuple[QuoteLine, ...]
    remainder_cents: int
    discount_cents: int
    price: Price
    plan: PaymentPlan
    cautions: tuple[Caution, ...]

    def __post_init__(self) -> None:
        parts = sum(piece.share_cents for piece in self.pieces)
        parts += sum(line_cents(line) for line in self.extra_lines)
        if parts + self.remainder_cents - self.discount_cents != self.price.net_cents:
            raise ValueError("the lines of the quote do not add up to its net price")

    @property
    def is_whole(self) -> bool:
        """Every piece could be estimated, and so could every variant of one."""
        return all(piece.estimate for piece in (*self.pieces, *self.variants))


def quote_priced(quote: Quote, *, today: date) -> PricedQuote:
    order = Order(
        quote=quote,
        rates=quote.rate_card.as_rates(),
        conditions=order_conditions(quote, today=today),
        today=today,
    )
    catalogue = estimator_catalogue()
    every = [_estimated(piece, catalogue, order) for piece in quote.pieces.all()]
    pieces = [piece for piece in every if piece.piece.counts]
    counting = order.priced(pieces)
    return PricedQuote(
        quote=quote,
        rates=order.rates,
        catalogue=catalogue,
        conditions=order.conditions,
        pieces=counting.pieces,
        variants=tuple(_variant(piece, pieces, order) for piece in every if not piece.piece.counts),
        extra_lines=order.extra_lines,
        remainder_cents=counting.remainder_cents,
        discount_cents=counting.discount_cents,
        price=counting.price,
        plan=counting.plan,
        cautions=_cautions(counting.pieces),
    )


@dataclass(frozen=True, kw_only=True)
class PricedOrder:
    """A quote's price with one variant of each thing, and what falls to each of its pieces."""

    pieces: tuple[PricedPiece, ...]
    remainder_cents: int
    discount_cents: int
    price: Price
    plan: PaymentPlan


@dataclass(frozen=True, kw_only=True)
class Order:
    """What a quote's pieces are priced with, whichever of their variants they are."""

    quote: Quote
    rates: Rates
    conditions: OrderConditions
    today: date

    @cached_property
    def extra_lines(self) -> tuple[QuoteLine, ...]:
        return tuple(self.quote.extra_lines.all())

    @property
    def lines(self) -> list[ExtraLine]:
        """As the estimator takes them."""
        return [
            ExtraLine(label=line.label, amount_cents=line_cents(line)) for line in self.extra_lines
        ]

    @property
    def discount(self) -> Discount | None:
        label = discount_label(self.quote)
        match self.quote.discount_kind:
            case DiscountKind.PERCENT:
                return Discount(label=label, bp=self.quote.discount_bp)
            case DiscountKind.AMOUNT:
                return Discount(label=label, amount_cents=self.quote.discount_cents)
        return None

    def priced(self, pieces: Sequence[PricedPiece]) -> PricedOrder:
        price = self.price(_estimates(pieces))
        discount_cents = -sum(line.amount_cents for line in price.lines if line.kind == "discount")
        extras_cents = sum(line_cents(line) for line in self.extra_lines)
        to_share = price.net_cents + discount_cents - extras_cents
        shared = _with_shares(pieces, to_share)
        return PricedOrder(
            pieces=shared,
            remainder_cents=to_share - sum(piece.share_cents for piece in shared),
            discount_cents=discount_cents,
            price=price,
            plan=payment_plan(
                price.total_cents,
                rates=self.rates,
                event_on=self.quote.job.event_on,
                today=self.today,
            ),
        )

    def price(self, made: Sequence[Estimate]) -> Price:
        return price_order(
            made,
            rates=self.rates,
            conditions=self.conditions,
            extra_lines=self.lines,
            discount=self.discount,
        )


def _estimates(pieces: Iterable[PricedPiece]) -> list[Estimate]:
    return [piece.estimate for piece in pieces if piece.estimate]


def order_around(piece: Piece, *, today: date) -> tuple[Order, list[Estimate]]:
    """The order that a piece is in, and what else counts in it, whether the piece counts or not."""
    quote, catalogue = piece.quote, estimator_catalogue()
    order = Order(
        quote=quote,
        rates=quote.rate_card.as_rates(),
        conditions=order_conditions(quote, today=today),
        today=today,
    )
    counting = quote.pieces.filter(counts=True).exclude(pk=piece.pk)
    others = [
        _estimated(one, catalogue, order)
        for one in counting
        if piece.choice is None or one.choice != piece.choice
    ]
    return order, _estimates(others)


def _variant(variant: PricedPiece, counting: Sequence[PricedPiece], order: Order) -> PricedVariant:
    """Priced in place of the one that counts, everything else as it is."""
    if variant.estimate is None:
        return PricedVariant(piece=variant.piece, estimate=None, problem=variant.problem)
    choice = variant.piece.choice
    at = next(index for index, one in enumerate(counting) if one.piece.choice == choice)
    priced = order.priced([*counting[:at], variant, *counting[at + 1 :]])
    return PricedVariant(
        piece=variant.piece,
        estimate=variant.estimate,
        share_cents=priced.pieces[at].share_cents,
        price=priced.price,
        plan=priced.plan,
    )


def order_conditions(quote: Quote, *, today: date) -> OrderConditions:
    job = quote.job
    distance_m = job.site.distance_m if job.site else None
    drive_minutes = job.site.drive_minutes if job.site else None
    return OrderConditions(
        lead_days=lead_days(job, today),
        outside_hours=quote.is_outside_hours,
        strike=quote.includes_strike,
        distance_km=(distance_m or 0) / 1000,
        drive_minutes=drive_minutes or 0,
    )


def lead_days(job: Job, today: date) -> int | None:
    return max(0, (job.event_on - today).days) if job.event_on else None


def _estimated(piece: Piece, catalogue: Catalogue, order: Order) -> PricedPiece:
    spec = piece_spec(piece)
    if spec is None:
        return PricedPiece(piece=piece, estimate=None, problem=NOT_DESCRIBED)
    try:
        found = estimate(spec, catalogue=catalogue, rates=order.rates, conditions=order.conditions)
    except SpecError as error:
        return PricedPiece(piece=piece, estimate=None, problem=_said(error))
    return PricedPiece(piece=piece, estimate=found)


def _said(error: SpecError) -> str:
    return "; ".join(problem.message for problem in error.problems).capitalize() + "."


def _with_shares(pieces: Sequence[PricedPiece], cents: int) -> tuple[PricedPiece, ...]:
    estimated = _estimates(pieces)
    if not estimated:
        return tuple(pieces)
    shares = iter(share_net_among(cents, estimated))
    return tuple(
        PricedPiece(piece=piece.piece, estimate=piece.estimate, share_cents=next(shares))
        if piece.estimate
        else piece
        for piece in pieces
    )


def _cautions(pieces: Sequence[PricedPiece]) -> tuple[Caution, ...]:
    """The gravest first."""
    found = (caution for piece in pieces if piece.estimate for caution in piece.estimate.cautions)
    return tuple(sorted(found, key=lambda caution: caution.severity))
