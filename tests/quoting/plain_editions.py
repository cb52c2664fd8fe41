"""Editions of which nothing is read but what stands in their own columns: no PDF is typeset."""

from datetime import UTC, date, datetime
from typing import Any

from quoting.models import ClientAnswer, Edition, Quote
from tests.factories import RateCardFactory

SENT_AT = datetime(2026, 6, 13, 16, 0, tzinfo=UTC)
FINGERPRINT = "0" * 64


def plain_edition(quote: Quote, **changes: Any) -> Edition:
    what = {
        "number": 1,
        "sent_at": SENT_AT,
        "rate_card": RateCardFactory(),
        "inputs": {"offer": {"pieces": [], "variants": []}},
        "result": {},
        "currency": "USD",
        "net_cents": 41_250,
        "tax_cents": 0,
        "total_cents": 41_250,
        "deposit_cents": 20_625,
        "expires_on": date(2026, 6, 19),
        "pdf": b"%PDF-1.7 the very one",
        "pdf_sha256": FINGERPRINT,
    }
    return Edition.objects.create(quote=quote, **{**what, **changes})


def answered(edition: Edition, **changes: Any) -> ClientAnswer:
    what = {
        "kind": "accepted",
        "typed_name": "Ada Quill",
        "net_cents": 50_000,
        "total_cents": 50_000,
        "at": SENT_AT,
        "timezone": "America/New_York",
        "pdf_sha256": FINGERPRINT,
        "outcome": "held",
    }
    return ClientAnswer.objects.create(edition=edition, **{**what, **changes})
