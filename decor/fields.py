"""Form fields for money, lengths and per cents as people type them. display.py says them back."""

import re
from decimal import Decimal, InvalidOperation
from typing import Any

from babel.numbers import NumberFormatError, parse_decimal
from django import forms
from django.core.exceptions import ValidationError

from decor.display import METRES_PER_FOOT, METRES_PER_INCH, length_text, money_text, percent_text
from decor.models.business import Units

_METRES_PER = {
    "ft": METRES_PER_FOOT,
    "in": METRES_PER_INCH,
    "m": 1.0,
    "cm": 0.01,
    "mm": 0.001,
}
_UNIT_WORDS = {
    "'": "ft", "′": "ft", "’": "ft", "foot": "ft", "feet": "ft", "ft": "ft",
    '"': "in", "″": "in", "”": "in", "inch": "in", "inches": "in", "ins": "in", "in": "in",
    "m": "m", "metre": "m", "metres": "m", "meter": "m", "meters": "m",
    "cm": "cm", "mm": "mm",
}  # fmt: skip
_PART = re.compile(r"(\d+(?:\.\d+)?)\s*([a-z]+|['′’\"″”])?\.?\s*")


class LengthField(forms.CharField):
    """Text such as `7 ft 6 in`, `7'6"` or `2.3 m` to metres; a bare number is feet or metres."""

    def __init__(
        self,
        *,
        units: str = Units.IMPERIAL,
        min_m: float = 0.0,
        max_m: float = 100.0,
        **kwargs: Any,
    ) -> None:
        self.units, self.min_m, self.max_m = units, min_m, max_m
        super().__init__(**kwargs)

    def to_python(self, value: Any) -> float | None:
        text = super().to_python(value)
        return None if text in self.empty_values else self._within(self._metres(text))

    def prepare_value(self, value: Any) -> Any:
        return length_text(value, self.units) if isinstance(value, float) else value

    def _metres(self, text: str) -> float:
        metres = parse_length(text, units=self.units)
        if metres is None:
            example = "7 ft 6 in" if self.units == Units.IMPERIAL else "2.3 m"
            raise ValidationError(f"Write a length such as {example}.", code="length")
        return metres

    def _within(self, metres: float) -> float:
        if not self.min_m <= metres <= self.max_m:
            low, high = (length_text(m, self.units) for m in (self.min_m, self.max_m))
            raise ValidationError(f"Between {low} and {high}, please.", code="range")
        return metres


def parse_length(text: str, *, units: str) -> float | None:
    """Metres, or None where the text is no length. Inches may follow feet without their sign."""
    metres, position, previous = 0.0, 0, None
    text = text.strip().lower().replace(",", ".")
    if not text:
        return None
    while position < len(text):
        part = _PART.match(text, position)
        if part is None:
            return None
        unit = _unit_of(part.group(2), previous, units)
        if unit is None:
            return None
        metres += float(part.group(1)) * _METRES_PER[unit]
        position, previous = part.end(), unit
    return metres


def _unit_of(word: str | None, previous: str | None, units: str) -> str | None:
    if word:
        return _UNIT_WORDS.get(word)
    if previous is None:
        return "ft" if units == Units.IMPERIAL else "m"
    return "in" if previous == "ft" else None


class MoneyField(forms.CharField):
    """Text such as `1,250` or `12.50` to whole cents."""

    def __init__(
        self,
        *,
        currency: str = "USD",
        min_cents: int = 0,
        max_cents: int = 100_000_000,
        **kwargs: Any,
    ) -> None:
        self.currency, self.min_cents, self.max_cents = currency, min_cents, max_cents
        super().__init__(**kwargs)
        self.widget.attrs.setdefault("inputmode", "decimal")

    def to_python(self, value: Any) -> int | None:
        text = super().to_python(value)
        if text in self.empty_values:
            return None
        cents = _exact_hundredths(text.lstrip("$€£ "), "Write an amount such as 12.50.")
        if not self.min_cents <= cents <= self.max_cents:
            low, high = (money_text(c, self.currency) for c in (self.min_cents, self.max_cents))
            raise ValidationError(f"Between {low} and {high}, please.", code="range")
        return cents

    def prepare_value(self, value: Any) -> Any:
        return f"{Decimal(value) / 100:.2f}" if isinstance(value, int) else value


class PercentField(forms.CharField):
    """Text such as `8.25` or `8.25 %` to basis points."""

    def __init__(self, *, min_bp: int = 0, max_bp: int = 10_000, **kwargs: Any) -> None:
        self.min_bp, self.max_bp = min_bp, max_bp
        super().__init__(**kwargs)
        self.widget.attrs.setdefault("inputmode", "decimal")

    def to_python(self, value: Any) -> int | None:
        text = super().to_python(value)
        if text in self.empty_values:
            return None
        points = _exact_hundredths(text.rstrip("% "), "Write a per cent such as 8.25.")
        if not self.min_bp <= points <= self.max_bp:
            low, high = percent_text(self.min_bp), percent_text(self.max_bp)
            raise ValidationError(f"Between {low} and {high}, please.", code="range")
        return points

    def prepare_value(self, value: Any) -> Any:
        return percent_text(value).removesuffix(" %") if isinstance(value, int) else value


def _exact_hundredths(text: str, message: str) -> int:
    """Refuses what could be read two ways (`12,50`) and what is finer than a hundredth."""
    try:
        hundredths = parse_decimal(text.strip(), locale="en_US", strict=True) * 100
    except (NumberFormatError, InvalidOperation):
        raise ValidationError(message, code="number") from None
    if not hundredths.is_finite() or hundredths != hundredths.to_integral_value():
        raise ValidationError(message, code="number")
    return int(hundredths)
