"""A quote from its first line to its edition: the front door of this room."""

from dataclasses import dataclass
from datetime import date, timedelta

from django.db import transaction

from decor.models import Job
from quoting.models import Quote
from quoting.models.quote import DiscountKind
from quoting.quotes.editions import quote_send
from quoting.quotes.numbering import next_quote_number
from quoting.quotes.pricing import PricedQuote, quote_priced
from quoting.quotes.refusal import QuoteRefused
from quoting.quotes.touching import quote_touched
from quoting.rate_cards.service import current_rate_card

__all__ = [
    "PricedQuote",
    "QuoteRefused",
    "QuoteText",
    "quote_conditions_set",
    "quote_discard",
    "quote_discount_set",
    "quote_priced",
    "quote_send",
    "quote_start",
    "quote_touched",
    "quote_use_current_rates",
]

GOOD_FOR = timedelta(days=14)  # common practice, no source
WAS_SENT = "This quote has been sent, so it stays: what was promised must be found again."
JOB_IS_ARCHIVED = "This job is archived. Bring it back before you quote for it."


@transaction.atomic
def quote_start(*, job: Job, today: date) -> Quote:
    if job.is_archived:
        raise QuoteRefused(JOB_IS_ARCHIVED)
    rate_card = current_rate_card(on=today)
    return Quote.objects.create(
        number=next_quote_number(),
        job=job,
        rate_card=rate_card,
        terms=rate_card.terms,
        expires_on=usual_expiry(event_on=job.event_on, today=today),
    )


def usual_expiry(*, event_on: date | None, today: date) -> date:
    """Two weeks from now, or the day before the event where that comes first."""
    usual = today + GOOD_FOR
    if event_on is None:
        return usual
    return max(today, min(usual, event_on - timedelta(days=1)))


@transaction.atomic
def quote_discard(*, quote: Quote) -> None:
    """Only a draft that nobody was sent. Its pieces and lines go with it."""
    locked = Quote.objects.select_for_update(no_key=True).get(pk=quote.pk)
    if locked.editions.exists():
        raise QuoteRefused(WAS_SENT)
    locked.delete()


@dataclass(frozen=True, kw_only=True)
class QuoteText:
    message: str
    terms: str
    expires_on: date
    is_outside_hours: bool
    includes_strike: bool


@transaction.atomic
def quote_conditions_set(*, quote: Quote, text: QuoteText) -> None:
    for name, value in vars(text).items():
        setattr(quote, name, value)
    _saved(quote, *vars(text))


@transaction.atomic
def quote_discount_set(*, quote: Quote, kind: str, bp: int, cents: int, reason: str) -> None:
    """Only what belongs to its kind is kept."""
    quote.discount_kind = kind
    quote.discount_bp = bp if kind == DiscountKind.PERCENT else 0
    quote.discount_cents = cents if kind == DiscountKind.AMOUNT else 0
    quote.discount_reason = "" if kind == DiscountKind.NONE else reason
    _saved(quote, "discount_kind", "discount_bp", "discount_cents", "discount_reason")


@transaction.atomic
def quote_use_current_rates(*, quote: Quote, today: date) -> None:
    quote.rate_card = current_rate_card(on=today)
    _saved(quote, "rate_card")


def _saved(quote: Quote, *names: str) -> None:
    quote.full_clean(exclude={"number", "job"})
    quote.save(update_fields=names)
    quote_touched(quote)
