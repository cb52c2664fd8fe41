"""Editions without the second it takes to typeset them."""

import hashlib
from datetime import UTC, date, datetime

from quoting.models import Edition, Quote
from quoting.models.quote import QuoteStage
from quoting.quotes.editions import draft_of

TODAY = date(2026, 6, 13)
NOW = datetime(2026, 6, 13, 15, 0, tzinfo=UTC)
PDF = b"%PDF-1.7 of the tests"


def sent(quote: Quote, *, today: date = TODAY, now: datetime = NOW) -> Edition:
    """As quote_send makes it, but for the PDF."""
    quote = Quote.objects.get(pk=quote.pk)
    draft = draft_of(quote, today=today)
    price = draft.result["price"]
    edition = Edition.objects.create(
        quote=quote,
        number=draft.number,
        sent_at=now,
        rate_card=quote.rate_card,
        inputs=draft.inputs,
        result=draft.result,
        currency="USD",
        net_cents=price["net_cents"],
        tax_cents=price["tax_cents"],
        total_cents=price["total_cents"],
        deposit_cents=draft.result["payment"]["deposit_cents"],
        expires_on=quote.expires_on,
        pdf=PDF,
        pdf_sha256=hashlib.sha256(PDF).hexdigest(),
    )
    Quote.objects.filter(pk=quote.pk).update(stage=QuoteStage.SENT)
    return edition
