"""What a job's page shows of its quotes: decor knows nothing of them."""

from dataclasses import dataclass

from django import template

from decor.models import Business, Job
from quoting.estimator import PriceLine
from quoting.models import Edition, Quote
from quoting.models.client_page import AnswerKind
from quoting.models.quote import QuoteStage
from quoting.quotes.changes import latest_edition, stage_now

register = template.Library()

TITLES_SHOWN = 3


@dataclass(frozen=True, kw_only=True)
class ListedQuote:
    quote: Quote
    contents: str
    latest: Edition | None
    total_cents: int | None
    stage: QuoteStage


@register.simple_tag
def quotes_of_job(job: Job) -> list[ListedQuote]:
    quotes = job.quotes.select_related("job__client", "job__site", "rate_card")
    return [_listed(quote) for quote in quotes.prefetch_related("pieces", "extra_lines")]


@register.simple_tag
def declined_quote(job: Job) -> Quote | None:
    """The last quote, where the client declined all that was sent to them."""
    stages = {quote.stage for quote in job.quotes.all()} - {QuoteStage.DRAFT}
    return job.quotes.first() if stages == {QuoteStage.DECLINED} else None


@register.filter
def why_of(line: PriceLine, business: Business) -> str:
    """Why a line of a price is what it is, in the business's units."""
    return line.said(business.units)


def _listed(quote: Quote) -> ListedQuote:
    latest = latest_edition(quote)
    return ListedQuote(
        quote=quote,
        contents=_contents(quote),
        latest=latest,
        total_cents=_total_cents(latest) if latest else None,
        stage=stage_now(quote),
    )


def _total_cents(edition: Edition) -> int:
    """With the variants that the client chose, once they have."""
    accepted = edition.answers.filter(kind=AnswerKind.ACCEPTED).first()
    return accepted.total_cents if accepted else edition.total_cents


def _contents(quote: Quote) -> str:
    names = [piece.title for piece in quote.pieces.all() if piece.counts]
    names += [line.label for line in quote.extra_lines.all()]
    more = len(names) - TITLES_SHOWN
    shown = ", ".join(names[:TITLES_SHOWN]) or "Nothing on it yet"
    return f"{shown} and {more} more" if more > 0 else shown
