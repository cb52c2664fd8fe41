"""The client's quote as a PDF, as a ratio to a bare one-page document by the same typesetter.

A ratio, because a machine's speed is not ours; the bare page says what the typesetter itself takes.
The best of the runs, as whatever else the machine does only ever adds to one. No two pieces are
alike and no picture is kept from run to run, so every balloon is settled and drawn every time.
"""

import os
from collections.abc import Iterator
from datetime import date
from typing import Any

import django
from weasyprint import HTML

from quoting.estimator import (
    OrderConditions,
    catalogue_to_dict,
    estimate,
    example_catalogue,
    example_rates,
    price_order,
    rates_to_dict,
    share_net_among,
    spec_from_dict,
)
from tests.quoting.estimator.garlands import garland

from .timing import milliseconds

_RUNS = 3
_BARE = "<html lang=en><title>Bare</title><h1>Quote</h1><p>One garland over a door.</p></html>"
_PIECES = (1, 2, 6)


def figures() -> Iterator[str]:
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "tests.settings")
    django.setup()
    bare = milliseconds(_bare, runs=_RUNS)[0]
    yield f"a bare page: {bare:.0f} ms"
    for count in _PIECES:
        taken = milliseconds(lambda count=count: _quote(count), runs=_RUNS)[0]
        yield (
            f"a quote of {count} pictured piece(s): {taken:.0f} ms, {taken / bare:.1f} times a "
            f"bare page, {len(_quote(count)) / 1000:.0f} kB"
        )


def _bare() -> bytes:
    return HTML(string=_BARE).write_pdf(pdf_variant="pdf/ua-1")


def _quote(count: int) -> bytes:
    from django.core.cache import cache

    from decor.documents.pdf import render_pdf
    from quoting.documents.quote_document import TEMPLATE, quote_document

    cache.clear()
    inputs, result = _frozen(count)
    context = quote_document(inputs, result, edition=1, made_on=date(2026, 6, 13))
    return render_pdf(TEMPLATE, context, "letter")


def _frozen(count: int) -> tuple[dict[str, Any], dict[str, Any]]:
    rates, catalogue = example_rates(), example_catalogue()
    specs = [{**garland(), "seed": number + 1} for number in range(count)]
    made = [estimate(spec_from_dict(spec), catalogue=catalogue, rates=rates) for spec in specs]
    price = price_order(made, rates=rates, conditions=OrderConditions())
    deposit = price.total_cents // 2
    inputs = {
        "offer": {
            "number": "LL-1042",
            "client": {"name": "Wexcombe Bay Library"},
            "job": {"title": "Reading-week arch", "event_on": "2026-06-20", "event_time": "14:00"},
            "site": {"name": "Library porch", "address": "2 Harbour Street"},
            "pieces": [
                {"id": number, "title": f"Arch {number}", "spec": spec}
                for number, spec in enumerate(specs, start=1)
            ],
            "extra_lines": [],
            "discount": {"label": ""},
            "message": "It was good to see the porch.",
            "terms": "The day is kept for you once the deposit has arrived.\n" * 6,
            "expires_on": "2026-06-19",
        },
        "business": {
            "name": "Larkspur Lane Garlands",
            "strapline": "",
            "email": "nell@larkspurlane.example",
            "phone": "(207) 555-0101",
            "address": "",
            "units": "imperial",
            "currency": "USD",
            "how_to_accept": "",
            "logo": "",
        },
        "in_words": [{"words": "A full arch.", "palette": [{"name": "Oat", "hex": "#e8dcc6"}]}]
        * count,
        "variants_in_words": {},
        "photos": {},
        "since": "",
        "rates": rates_to_dict(rates),
        "catalogue": catalogue_to_dict(catalogue),
    }
    result = {
        "shares_cents": list(share_net_among(price.net_cents, made)),
        "variants": [],
        "remainder_cents": 0,
        "discount_cents": 0,
        "price": {
            "net_cents": price.net_cents,
            "tax_cents": price.tax_cents,
            "total_cents": price.total_cents,
        },
        "payment": {
            "deposit_cents": deposit,
            "balance_cents": price.total_cents - deposit,
            "balance_on": "2026-06-15",
        },
    }
    return inputs, result
