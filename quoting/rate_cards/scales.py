"""Numbers and times as text, and what a typed number is in the unit in which it is kept."""

import re
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from typing import Final

from babel.numbers import NumberFormatError, format_decimal, parse_decimal
from django.core.exceptions import ValidationError

SECONDS_PER_MINUTE: Final = 60
WRITE_A_NUMBER: Final = "Write a number such as {example}."
WRITE_A_TIME: Final = "Write a time such as 45 s, 4 min or 1 min 30 s."


@dataclass(frozen=True)
class Scale:
    """`typed × kept_per_unit + above` is what is kept."""

    unit: str
    kept_per_unit: float
    above: float = 0.0
    decimals: tuple[int, int] = (0, 2)  # shown at least and at most

    def typed(self, kept: float) -> Decimal:
        return (exact(kept) - exact(self.above)) / exact(self.kept_per_unit)

    def kept(self, typed: Decimal) -> float:
        return float(typed * exact(self.kept_per_unit) + exact(self.above))

    def said(self, kept: float) -> str:
        return number_text(self.typed(kept), self.decimals)


_TIME: Final = re.compile(
    r"(?:(?P<min>\d+(?:\.\d+)?)\s*(?:m|min|mins|minutes?)\b\.?)?\s*"
    r"(?:(?P<s>\d+(?:\.\d+)?)\s*(?:s|sec|secs|seconds?)?\b\.?)?"
)


def seconds_from_text(text: str) -> float:
    found = _TIME.fullmatch(text.strip().lower())
    if not found or not (found["min"] or found["s"]):
        raise ValidationError(WRITE_A_TIME, code="time")
    return float(found["min"] or 0) * SECONDS_PER_MINUTE + float(found["s"] or 0)


def seconds_text(seconds: float) -> str:
    seconds = round(seconds, 2)
    minutes, rest = divmod(seconds, SECONDS_PER_MINUTE)
    if minutes < 2 and rest:
        return f"{number_text(exact(seconds))} s"
    said = [f"{minutes:.0f} min"] if minutes else []
    said += [f"{number_text(exact(rest))} s"] if rest or not minutes else []
    return " ".join(said)


def number_from_text(text: str) -> Decimal:
    """Refuses what could be read two ways (`12,50`), NaN and infinity."""
    try:
        number = parse_decimal(text.strip(), locale="en_US", strict=True)
    except (NumberFormatError, InvalidOperation):
        number = Decimal("NaN")
    if not number.is_finite():
        raise ValidationError(WRITE_A_NUMBER.format(example="12.5"), code="number")
    return number


def exact(number: float) -> Decimal:
    """As it is written, so that 57 % of a hundred is 57."""
    return Decimal(repr(float(number)))


def number_text(number: Decimal, decimals: tuple[int, int] = (0, 2)) -> str:
    least, most = decimals
    pattern = "0." + "0" * least + "#" * (most - least)
    return format_decimal(number, format=pattern, locale="en_US")
