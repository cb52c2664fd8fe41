"""The short answer to “Can I take this job?”, for a quote's own pages."""

from django import template
from django.utils import timezone

from quoting.covering.answer import Answer, can_take
from quoting.quotes.pricing import PricedQuote

register = template.Library()


@register.simple_tag
def cover_answer(priced: PricedQuote) -> Answer:
    return can_take(priced, today=timezone.localdate())
