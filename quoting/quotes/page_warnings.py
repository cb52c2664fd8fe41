"""What the owner should mind before a quote goes out, each thing said once an order."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from quoting.estimator.cautions import Caution, Severity
from quoting.quotes.pricing import PricedQuote

NO_DISTANCE = (
    "The price has no travel in it, as nobody wrote down how far the place is. "
    "You can do so on the job's page, under the place."
)
NO_PLACE = "The job has no place yet, so the price has no travel in it and the quote says no place."
UNDER_MARGIN = "After the discount less is left than the margin of your rate card."
# Who minds the worst of these minds them all: by key, the number that makes one the worst.
_WORST_IS_ENOUGH: Final = {"ladder": "top"}


@dataclass(frozen=True)
class PageWarning:
    """`about` names the pieces it is true of, where the quote has others as well."""

    text: str
    is_grave: bool = False
    about: str = ""


def page_warnings(priced: PricedQuote, *, units: str) -> tuple[PageWarning, ...]:
    return (*_cautions(priced, units), *_price_warnings(priced))


def _cautions(priced: PricedQuote, units: str) -> Iterator[PageWarning]:
    """The gravest first."""
    found: dict[object, list[tuple[Caution, str]]] = {}
    for piece in priced.pieces:
        for caution in piece.estimate.cautions if piece.estimate else ():
            one_of = caution.key if caution.key in _WORST_IS_ENOUGH else caution.said(units)
            found.setdefault(one_of, []).append((caution, piece.piece.title))
    for same in sorted(found.values(), key=lambda same: same[0][0].severity):
        worst = max((caution for caution, _ in same), key=_badness)
        titles = list(dict.fromkeys(title for _, title in same))
        yield PageWarning(
            worst.said(units),
            is_grave=worst.severity is Severity.STOP,
            about=", ".join(titles) if len(same) < len(priced.pieces) else "",
        )


def _badness(caution: Caution) -> float:
    number = _WORST_IS_ENOUGH.get(caution.key)
    return caution.numbers[number].value if number else 0.0


def _price_warnings(priced: PricedQuote) -> Iterator[PageWarning]:
    site = priced.quote.job.site
    if site is None:
        yield PageWarning(NO_PLACE)
    elif site.distance_m is None:
        yield PageWarning(NO_DISTANCE)
    if priced.discount_cents and priced.price.margin_bp < priced.rates.margin_bp:
        yield PageWarning(UNDER_MARGIN)
