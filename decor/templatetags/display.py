"""Template filters over decor/display.py, such as `{{ cents|money:business }}`."""

from datetime import date

from django import template
from django.utils import timezone

from decor import display
from decor.models import Business

register = template.Library()


@register.filter
def money(cents: int | None, business: Business) -> str:
    return "" if cents is None else display.money_text(cents, business.currency)


@register.filter
def distance(metres: float | None, business: Business) -> str:
    return "" if metres is None else display.distance_text(metres, business.units)


@register.filter
def hours(value: float | None) -> str:
    return "" if value is None else display.hours_text(value)


@register.filter
def percent(basis_points: int | None) -> str:
    return "" if basis_points is None else display.percent_text(basis_points)


@register.filter
def long_date(day: date | None) -> str:
    return "" if day is None else display.date_text(day)


@register.filter
def days_away(day: date | None) -> str:
    return "" if day is None else display.days_away_text(day, timezone.localdate())
