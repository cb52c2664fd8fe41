"""How money, lengths, hours and dates are said to people. Text out; fields.py reads text in."""

from datetime import date, timedelta
from decimal import Decimal

from babel.numbers import format_currency

from decor.models.business import Units

METRES_PER_INCH = 0.0254  # exact: the international inch of 1959
METRES_PER_FOOT = 12 * METRES_PER_INCH
METRES_PER_MILE = 5280 * METRES_PER_FOOT


def money_text(cents: int, currency: str) -> str:
    """`123450, "USD"` is said as `$1,234.50`."""
    return format_currency(Decimal(cents) / 100, currency, locale="en_US")


def length_text(metres: float, units: str) -> str:
    """To the nearest inch, as `7 ft 10 in`, or to the nearest centimetre, as `2.40 m`."""
    if units == Units.METRIC:
        return f"{metres:.2f} m"
    feet, inches = divmod(round(metres / METRES_PER_INCH), 12)
    said = [f"{feet} ft"] if feet else []
    said += [f"{inches} in"] if inches or not feet else []
    return " ".join(said)


def distance_text(metres: float, units: str) -> str:
    """A road's length, to a tenth of a mile or kilometre."""
    if units == Units.METRIC:
        return f"{metres / 1000:.1f} km"
    return f"{metres / METRES_PER_MILE:.1f} miles"


def hours_text(hours: float) -> str:
    """To the nearest five minutes (a planning figure knows no better), as `3 h 20 min`."""
    if 0 < hours < 2.5 / 60:
        return "under 5 min"
    whole, minutes = divmod(5 * round(hours * 12), 60)
    if not whole:
        return f"{minutes} min"
    return f"{whole} h {minutes} min" if minutes else f"{whole} h"


def percent_text(basis_points: int) -> str:
    """`825` basis points are said as `8.25 %`, and below nothing with a minus that is one."""
    text = f"{Decimal(abs(basis_points)) / 100:.2f}".rstrip("0").rstrip(".")
    return f"{'−' if basis_points < 0 else ''}{text} %"


def date_text(day: date) -> str:
    """`Saturday 5 December 2026`: a date is never only a number."""
    return f"{day:%A} {day.day} {day:%B %Y}"


def days_away_text(day: date, today: date) -> str:
    """How far off a day is, as people say it."""
    days = (day - today) // timedelta(days=1)
    near = {0: "today", 1: "tomorrow", -1: "yesterday"}
    if days in near:
        return near[days]
    count, unit = (abs(days), "days") if abs(days) < 21 else (round(abs(days) / 7), "weeks")
    return f"in {count} {unit}" if days > 0 else f"{count} {unit} ago"
