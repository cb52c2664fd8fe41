"""What a job's page shows of its quotes: decor knows nothing of them."""

from dataclasses import dataclass

from django import template

from decor.models import Business, Job
from quoting.estimator import PriceLine
from quoting.models import Edition, Quote
from quoting.models.quote import QuoteStage
from quoting.quotes.changes import latest_edition, stage_now

register = template.Library()

TITLES_SHOWN = 3


@dataclass(frozen=True, kw_only=True)
class ListedQuote:
    quote: Quote
    contents: str
    latest: Edition | None
    stage: QuoteStage


@register.simple_tag
def quotes_of_job(job: Job) -> list[ListedQuote]:
    quotes = job.quotes.select_related("job__client", "job__site", "rate_card")
    return [
        ListedQuote(
            quote=quote,
            contents=_contents(quote),
            latest=latest_edition(quote),
            stage=stage_now(quote),
        )
        for quote in quotes.prefetch_related("pieces", "extra_lines")
    ]


@register.filter
def why_of(line: PriceLine, business: Business) -> str:
    """Why a line of a price is what it is, in the business's units."""
    return line.said(business.units)


def _contents(quote: Quote) -> str:
    names = [piece.title for piece in quote.pieces.all() if piece.counts]
    names += [line.label for line in quote.extra_lines.all()]
    more = len(names) - TITLES_SHOWN
    shown = ", ".join(names[:TITLES_SHOWN]) or "Nothing on it yet"
    return f"{shown} and {more} more" if more > 0 else shown
