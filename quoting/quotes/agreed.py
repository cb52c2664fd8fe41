"""The quote that a job's work is done by."""

from decor.models import Job
from quoting.models import Quote
from quoting.models.client_page import AnswerKind


def quote_agreed(job: Job) -> Quote | None:
    """The one accepted last; else the one that stock is held for; else the only one there is."""
    accepted = Quote.objects.filter(job=job, editions__answers__kind=AnswerKind.ACCEPTED)
    found = accepted.order_by("-editions__answers__at").first()
    if found is not None:
        return found
    last = job.holds.order_by("-placed_at").first()
    quotes = list(job.quotes.filter(pieces__isnull=False).distinct())
    held = next((quote for quote in quotes if last and quote.number == last.source), None)
    return held or (quotes[0] if len(quotes) == 1 else None)
