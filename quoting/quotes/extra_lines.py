"""Lines on a quote that are not garlands."""

from django.db import transaction
from django.db.models import Max

from quoting.documents.quote_document import MOST_LINES, TOO_MANY_LINES
from quoting.models import ExtraLine, Quote
from quoting.quotes.refusal import QuoteRefused
from quoting.quotes.touching import quote_touched


@transaction.atomic
def extra_line_add(*, quote: Quote, label: str, quantity: int, unit_cents: int) -> ExtraLine:
    if quote.pieces.count() + quote.extra_lines.count() >= MOST_LINES:
        raise QuoteRefused(TOO_MANY_LINES)
    last = quote.extra_lines.aggregate(last=Max("position"))["last"]
    line = ExtraLine(quote=quote, position=0 if last is None else last + 1)
    return _written(line, label=label, quantity=quantity, unit_cents=unit_cents)


@transaction.atomic
def extra_line_edit(*, line: ExtraLine, label: str, quantity: int, unit_cents: int) -> ExtraLine:
    return _written(line, label=label, quantity=quantity, unit_cents=unit_cents)


@transaction.atomic
def extra_line_remove(*, line: ExtraLine) -> None:
    quote = line.quote
    line.delete()
    quote_touched(quote)


def _written(line: ExtraLine, *, label: str, quantity: int, unit_cents: int) -> ExtraLine:
    line.label, line.quantity, line.unit_cents = label, quantity, unit_cents
    line.full_clean()
    line.save()
    quote_touched(line.quote)
    return line
