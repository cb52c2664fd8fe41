"""Temperatures, gusts and points as they are typed, in the business's units or any other named."""

import re
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from decor.display import length_text
from decor.fields import parse_length
from decor.models.business import Units

_MPS_PER_MPH = 0.44704  # exact
_MPS_PER_KMH = 1 / 3.6
_MPS_PER_KNOT = 1.852 / 3.6
_NUMBER = re.compile(r"([-−]?\d{1,6}(?:[.,]\d{1,6})?)\s*(.*)")
_GUST_UNITS = {
    "mph": _MPS_PER_MPH, "miles an hour": _MPS_PER_MPH,
    "km/h": _MPS_PER_KMH, "kmh": _MPS_PER_KMH, "kph": _MPS_PER_KMH,
    "m/s": 1.0, "mps": 1.0, "kn": _MPS_PER_KNOT, "kt": _MPS_PER_KNOT, "knots": _MPS_PER_KNOT,
}  # fmt: skip
_TEMPERATURE_UNITS = {"c": "c", "f": "f", "°c": "c", "°f": "f", "°": ""}
MOST_POINTS = 60
Point = tuple[float, float, float]


def celsius_of(fahrenheit: float) -> float:
    return (fahrenheit - 32) / 1.8


def temperature_text(celsius: float, units: str) -> str:
    return f"{celsius:.0f} °C" if units == Units.METRIC else f"{celsius * 1.8 + 32:.0f} °F"


def gust_text(mps: float, units: str) -> str:
    if units == Units.METRIC:
        return f"{mps / _MPS_PER_KMH:.0f} km/h"
    return f"{mps / _MPS_PER_MPH:.0f} mph"


class TemperatureField(forms.CharField):
    """`40`, `40 F` or `4 °C` to degrees Celsius; a bare number is in the business's units."""

    def __init__(self, *, units: str, min_c: float, max_c: float, **kwargs: Any) -> None:
        self.units, self.min_c, self.max_c = units, min_c, max_c
        super().__init__(**kwargs)

    def to_python(self, value: Any) -> float | None:
        text = super().to_python(value)
        if text in self.empty_values:
            return None
        celsius = self._celsius(text)
        if not self.min_c <= celsius <= self.max_c:
            low, high = (temperature_text(c, self.units) for c in (self.min_c, self.max_c))
            raise ValidationError(f"Between {low} and {high}, please.", code="range")
        return celsius

    def _celsius(self, text: str) -> float:
        number, unit = _number_and_unit(text)
        scale = _TEMPERATURE_UNITS.get(unit) if unit else ""
        if number is None or scale is None:
            raise ValidationError("Write a temperature such as 40 F or 4 C.", code="number")
        own = "c" if self.units == Units.METRIC else "f"
        return number if (scale or own) == "c" else celsius_of(number)


class GustField(forms.CharField):
    """`20`, `20 mph`, `30 km/h` or `9 m/s` to m/s; a bare number is mph or km/h."""

    def __init__(self, *, units: str, max_mps: float, **kwargs: Any) -> None:
        self.units, self.max_mps = units, max_mps
        super().__init__(**kwargs)

    def to_python(self, value: Any) -> float | None:
        text = super().to_python(value)
        if text in self.empty_values:
            return None
        number, unit = _number_and_unit(text)
        factor = _GUST_UNITS.get(unit or ("km/h" if self.units == Units.METRIC else "mph"))
        if number is None or factor is None:
            raise ValidationError("Write a wind speed such as 20 mph or 9 m/s.", code="number")
        if not 0 <= number * factor <= self.max_mps:
            most = gust_text(self.max_mps, self.units)
            raise ValidationError(f"Between 0 and {most}, please.", code="range")
        return number * factor


class InchesField(forms.CharField):
    """A balloon's diameter: `9`, `9.5 in` or `24 cm` to inches, as the whole trade counts."""

    def __init__(self, *, min_in: float, max_in: float, **kwargs: Any) -> None:
        self.min_in, self.max_in = min_in, max_in
        super().__init__(**kwargs)

    def to_python(self, value: Any) -> float | None:
        text = super().to_python(value)
        if text in self.empty_values:
            return None
        number, unit = _number_and_unit(text.rstrip('"″”'))
        if number is None or unit not in {"", "in", "inch", "inches", "cm"}:
            raise ValidationError("Write inches such as 9 or 9.5.", code="number")
        inches = number / 2.54 if unit == "cm" else number
        if not self.min_in <= inches <= self.max_in:
            message = f"Between {self.min_in:g} and {self.max_in:g} in, please."
            raise ValidationError(message, code="range")
        return round(inches, 3)


class PointsField(forms.CharField):
    """One point a line, `across, up` or `across, up, out`, to (x, y away from us, z up) metres."""

    def __init__(self, *, units: str, max_m: float, **kwargs: Any) -> None:
        self.units, self.max_m = units, max_m
        super().__init__(widget=forms.Textarea(attrs={"rows": 5}), **kwargs)

    def to_python(self, value: Any) -> tuple[Point, ...] | None:
        text = super().to_python(value)
        if text in self.empty_values:
            return None
        lines = [line for line in text.splitlines() if line.strip()]
        if not 2 <= len(lines) <= MOST_POINTS:
            raise ValidationError(f"Between 2 and {MOST_POINTS} points, one a line.", code="count")
        return tuple(self._point(number, line) for number, line in enumerate(lines, start=1))

    def _point(self, number: int, line: str) -> Point:
        parts = [self._metres(part) for part in line.split(",")]
        if len(parts) not in {2, 3} or None in parts:
            example = "6 ft, 7 ft 6 in" if self.units == Units.IMPERIAL else "1.8, 2.3"
            message = f"Line {number}: write across, up, such as {example}."
            raise ValidationError(message, code="point")
        across, up, out = (*parts, 0.0)[:3]
        if max(abs(across), abs(up), abs(out)) > self.max_m:
            most = length_text(self.max_m, self.units)
            raise ValidationError(f"Line {number}: within {most}, please.", code="range")
        return across, 0.0 - out, up

    def _metres(self, text: str) -> float | None:
        text = text.strip()
        is_negative = text[:1] in {"-", "−"}
        metres = parse_length(text[1:] if is_negative else text, units=self.units)
        return -metres if is_negative and metres is not None else metres


def _number_and_unit(text: str) -> tuple[float | None, str]:
    found = _NUMBER.fullmatch(text.strip())
    if found is None:
        return None, ""
    number = found.group(1).replace("−", "-").replace(",", ".")
    return float(number), found.group(2).strip().lower()
