"""Keeping a quote's stage true after any part of it has changed."""

from django.db import transaction

from quoting.models import Quote
from quoting.models.quote import QuoteStage
from quoting.quotes.changes import differs_from_sent


@transaction.atomic
def quote_touched(quote: Quote) -> None:
    """Sent becomes changed, and changed becomes sent again when the change is undone."""
    now = Quote.objects.select_for_update(no_key=True).get(pk=quote.pk)
    if now.stage != QuoteStage.DRAFT:
        now.stage = QuoteStage.CHANGED if differs_from_sent(now) else QuoteStage.SENT
    now.save(update_fields=["stage", "changed_at"])
    quote.stage, quote.changed_at = now.stage, now.changed_at
