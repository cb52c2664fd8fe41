"""Form fields of rates. What each gives is the value as the estimator keeps it.

A value that is not touched keeps its last digit, though the page shows fewer.
"""

from typing import Any, Final

from django import forms
from django.core.exceptions import ValidationError

from decor.fields import PercentField
from quoting.rate_cards.scales import (
    Scale,
    number_from_text,
    seconds_from_text,
    seconds_text,
)

BETWEEN: Final = "Between {low} and {high}, please."


class _KeepsUntouched:
    """What is sent back as it was shown is not a change, though the page rounds it."""

    def has_changed(self, initial: Any, data: Any) -> bool:
        shown = "" if initial is None else str(self.prepare_value(initial))
        return shown.strip() != (data or "").strip()


class QuantityField(_KeepsUntouched, forms.CharField):
    """Text in one unit to the number in which it is kept."""

    def __init__(self, *, scale: Scale, low: float, high: float, **kwargs: Any) -> None:
        self.scale, self.low, self.high = scale, low, high
        super().__init__(**kwargs)
        self.widget.attrs.setdefault("inputmode", "decimal")

    def to_python(self, value: Any) -> float | None:
        text = super().to_python(value)
        if text in self.empty_values:
            return None
        kept = self.scale.kept(number_from_text(text.removesuffix(self.scale.unit)))
        return self._within(kept)

    def _within(self, kept: float) -> float:
        """A limit may be typed as it is shown, though rounded it lies a hair outside."""
        if self.low <= kept <= self.high:
            return kept
        for limit in (self.low, self.high):
            if self.scale.said(kept) == self.scale.said(limit):
                return limit
        low, high = self.scale.said(self.low), self.scale.said(self.high)
        message = BETWEEN.format(low=low, high=f"{high} {self.scale.unit}")
        raise ValidationError(message, code="range")

    def prepare_value(self, value: Any) -> Any:
        return self.scale.said(value) if isinstance(value, int | float) else value


class SecondsField(_KeepsUntouched, forms.CharField):
    """`45 s`, `4 min`, `1 min 30 s`; a bare number is seconds."""

    def __init__(self, *, low: float, high: float, **kwargs: Any) -> None:
        self.low, self.high = low, high
        super().__init__(**kwargs)

    def to_python(self, value: Any) -> float | None:
        text = super().to_python(value)
        if text in self.empty_values:
            return None
        seconds = seconds_from_text(text)
        if not self.low <= seconds <= self.high:
            low, high = seconds_text(self.low), seconds_text(self.high)
            raise ValidationError(BETWEEN.format(low=low, high=high), code="range")
        return seconds

    def prepare_value(self, value: Any) -> Any:
        return seconds_text(value) if isinstance(value, int | float) else value


class RatePercentField(PercentField):
    """Says why where the reason is not plain."""

    def __init__(self, *, out_of_range: str, **kwargs: Any) -> None:
        self._out_of_range = out_of_range
        super().__init__(**kwargs)

    def to_python(self, value: Any) -> int | None:
        try:
            return super().to_python(value)
        except ValidationError as refused:
            if refused.code == "range" and self._out_of_range:
                raise ValidationError(self._out_of_range, code="range") from None
            raise
