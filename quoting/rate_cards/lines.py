"""One rate of a card: what it is called, how it is measured, what it does."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django import forms

from quoting.rate_cards.measures import Measure, Showing


@dataclass(frozen=True, kw_only=True)
class RateLine:
    """`name` is the way to the value in the rates, such as `unit_times.mini_s`."""

    name: str
    label: str
    measure: Measure
    why: str = ""
    is_optional: bool = False

    @property
    def field_name(self) -> str:
        return self.name.replace(".", "-").replace(" ", "_")

    def value(self, rates: Mapping[str, Any]) -> Any:
        """Of rates as `rates_to_dict` writes them; None where nothing is said."""
        found: Any = rates
        for part in self.name.split("."):
            found = found.get(part)
        return found

    def put(self, rates: dict[str, Any], value: Any) -> None:
        *groups, last = self.name.split(".")
        for group in groups:
            rates = rates[group]
        if value is None:
            rates.pop(last, None)
        else:
            rates[last] = value

    def text(self, rates: Mapping[str, Any], showing: Showing) -> str:
        return self.measure.text(self.value(rates), showing)


@dataclass(frozen=True, kw_only=True)
class Fold:
    """What belongs together. `also` is for few: it stands behind one more fold."""

    key: str
    title: str
    intro: str = ""
    lines: tuple[RateLine, ...] = ()
    also_title: str = ""
    also: tuple[RateLine, ...] = ()

    @property
    def all_lines(self) -> tuple[RateLine, ...]:
        return self.lines + self.also


def label_of(line: RateLine, showing: Showing) -> str:
    return line.label.format(distance=showing.distance)


def rate_field(line: RateLine, showing: Showing, **kwargs: Any) -> forms.Field:
    unit = line.measure.unit(showing)
    label = label_of(line, showing)
    said = {
        "label": f"{label} ({unit})" if unit else label,
        "help_text": line.why,
        "required": not line.is_optional,
    }
    return line.measure.field(showing, **said | kwargs)
