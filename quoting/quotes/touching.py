"""Keeping a quote's stage true after any part of it has changed."""

from django.db import transaction

from quoting.models import Quote
from quoting.quotes.changes import stage_now


@transaction.atomic
def quote_touched(quote: Quote) -> None:
    """Sent becomes changed, and changed becomes sent again when the change is undone."""
    now = Quote.objects.select_for_update(no_key=True).get(pk=quote.pk)
    now.stage = stage_now(now)
    now.save(update_fields=["stage", "changed_at"])
    quote.stage, quote.changed_at = now.stage, now.changed_at
