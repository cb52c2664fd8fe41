"""Latitude and longitude as a map gives them, in one line of text."""

import re
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from decor.models.located import Coordinates

EXAMPLE = "43.66, -70.26"
NOT_READ = f"Write latitude, then longitude, such as {EXAMPLE} or 43.66 N, 70.26 W."
NOT_ON_EARTH = "Latitude goes from -90 to 90 and longitude from -180 to 180."
HELP = "For sunset: press on the place in a map and copy the two numbers it shows."

_NUMBER = r"([-−]?\d{1,3}(?:\.\d{1,15})?)\s*°?\s*"
_BOTH = re.compile(rf"{_NUMBER}([NS]?)\s*[,;\s]\s*{_NUMBER}([EW]?)", re.IGNORECASE)


def coordinates_text(coordinates: Coordinates) -> str:
    """Every digit that is kept, so that saving it again moves nothing."""
    numbers = (coordinates.latitude, coordinates.longitude)
    return ", ".join(f"{number:.6f}".rstrip("0").rstrip(".") for number in numbers)


def parse_coordinates(text: str) -> Coordinates | None:
    """None where the text is no pair of them; it need not be on Earth."""
    found = _BOTH.fullmatch(text.strip())
    if found is None:
        return None
    latitude, north, longitude, east = found.groups()
    return Coordinates(_signed(latitude, north, "S"), _signed(longitude, east, "W"))


def _signed(number: str, letter: str, below_zero: str) -> float:
    value = float(number.replace("−", "-"))
    return -value if letter.upper() == below_zero else value


class CoordinatesField(forms.CharField):
    """`43.66, -70.26` or `43.66 N, 70.26 W` to Coordinates."""

    def __init__(self, **kwargs: Any) -> None:
        kwargs.setdefault("label", "Latitude and longitude")
        kwargs.setdefault("help_text", HELP)
        super().__init__(required=False, **kwargs)
        self.widget.attrs.setdefault("autocomplete", "off")
        self.widget.attrs.setdefault("placeholder", EXAMPLE)

    def to_python(self, value: Any) -> Coordinates | None:
        text = super().to_python(value)
        if text in self.empty_values:
            return None
        found = parse_coordinates(text)
        if found is None:
            raise ValidationError(NOT_READ, code="coordinates")
        if abs(found.latitude) > 90 or abs(found.longitude) > 180:
            raise ValidationError(NOT_ON_EARTH, code="range")
        return found

    def prepare_value(self, value: Any) -> Any:
        return coordinates_text(value) if isinstance(value, Coordinates) else value
