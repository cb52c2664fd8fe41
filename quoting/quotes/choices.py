"""What the client chooses between: the variants of one thing side by side, each with its price."""

from collections.abc import Iterator
from dataclasses import dataclass

from quoting.estimator import Estimate, Price
from quoting.models import Piece
from quoting.quotes.payments import PaymentPlan
from quoting.quotes.pricing import PricedPiece, PricedQuote, PricedVariant


@dataclass(frozen=True, kw_only=True)
class Option:
    """`price` and `plan` are the whole quote's with this one in it, all else as it counts now.

    `more_cents` is what its total is above that of the one that counts; below, it is negative.
    """

    piece: Piece
    estimate: Estimate
    share_cents: int
    price: Price
    plan: PaymentPlan
    more_cents: int


@dataclass(frozen=True, kw_only=True)
class Choice:
    """Options from A on; exactly one of them counts."""

    number: int
    options: tuple[Option, ...]

    @property
    def counting(self) -> Option:
        return next(option for option in self.options if option.piece.counts)


def choices_of(priced: PricedQuote) -> tuple[Choice, ...]:
    """In the order of the pieces. A variant without an estimate has no price and is left out."""
    return tuple(
        Choice(number=piece.piece.choice, options=tuple(_options(piece, priced)))
        for piece in priced.pieces
        if piece.piece.choice is not None and piece.estimate
    )


def _options(counting: PricedPiece, priced: PricedQuote) -> Iterator[Option]:
    found = [_counting_option(counting, priced)]
    found += [
        _option(variant, priced)
        for variant in priced.variants
        if variant.piece.choice == counting.piece.choice and variant.price
    ]
    yield from sorted(found, key=lambda option: option.piece.variant)


def _counting_option(piece: PricedPiece, priced: PricedQuote) -> Option:
    return Option(
        piece=piece.piece,
        estimate=piece.estimate,
        share_cents=piece.share_cents,
        price=priced.price,
        plan=priced.plan,
        more_cents=0,
    )


def _option(variant: PricedVariant, priced: PricedQuote) -> Option:
    return Option(
        piece=variant.piece,
        estimate=variant.estimate,
        share_cents=variant.share_cents,
        price=variant.price,
        plan=variant.plan,
        more_cents=variant.price.total_cents - priced.price.total_cents,
    )
