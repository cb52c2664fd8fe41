"""Quantities said in either system of units: the same caution as `31 mph` or as `14 m/s`."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from . import constants as c

_INCHES_PER_FOOT: Final = 12
METRES_PER_FOOT: Final = _INCHES_PER_FOOT * c.METRES_PER_INCH

_KM_PER_MILE: Final = c.METRES_PER_MILE / 1000
_NEWTONS_PER_POUND: Final = 4.4482216152605  # exact: 0.45359237 kg at 9.80665 m/s2


class UnitSystem(StrEnum):
    METRIC = "metric"
    IMPERIAL = "imperial"


class Measure(StrEnum):
    """What a number is a number of; the unit it is held in stands beside it."""

    LENGTH = "m"
    SPEED = "m/s"
    FORCE = "N"
    TEMPERATURE = "deg C"
    VOLUME = "m3"
    HOURS = "h"
    SHARE = "of 1"
    COUNT = "each"
    CENTS = "cents"
    DISTANCE = "km"
    CENTS_BY_DISTANCE = "cents/km"


@dataclass(frozen=True)
class Quantity:
    value: float
    measure: Measure


def say(quantity: Quantity, units: str = UnitSystem.METRIC) -> str:
    value, measure = quantity.value, quantity.measure
    if units == UnitSystem.IMPERIAL and measure in _IMPERIAL:
        return _IMPERIAL[measure](value)
    return _METRIC[measure](value)


def fill_in(sentence: str, numbers: Mapping[str, Quantity], units: str) -> str:
    """Each `{name}` of a sentence becomes its quantity in words."""
    return sentence.format(**{name: say(number, units) for name, number in numbers.items()})


def _feet_and_inches(metres: float) -> str:
    feet, inches = divmod(round(metres / c.METRES_PER_INCH), _INCHES_PER_FOOT)
    if not feet:
        return f"{inches} in"
    return f"{feet} ft {inches} in" if inches else f"{feet} ft"


def _plain(unit: str, digits: int) -> Callable[[float], str]:
    return lambda value: f"{round(value, digits):g} {unit}"


def _amount(cents: float) -> str:
    return f"{cents / 100:.2f}"


_METRIC: Final[Mapping[Measure, Callable[[float], str]]] = {
    Measure.LENGTH: _plain("m", 2),
    Measure.SPEED: _plain("m/s", 1),
    Measure.FORCE: lambda newtons: f"{newtons:.0f} N",
    Measure.TEMPERATURE: _plain("°C", 1),
    Measure.VOLUME: _plain("m³", 2),
    Measure.HOURS: _plain("h", 1),
    Measure.SHARE: lambda share: f"{100 * share:{'.0f' if share >= 0.1 else '.2g'}} %",
    Measure.COUNT: lambda count: f"{count:g}",
    Measure.CENTS: _amount,
    Measure.DISTANCE: _plain("km", 1),
    Measure.CENTS_BY_DISTANCE: _plain("cents a km", 1),
}
_IMPERIAL: Final[Mapping[Measure, Callable[[float], str]]] = {
    Measure.LENGTH: _feet_and_inches,
    Measure.SPEED: lambda mps: f"{mps / c.MPS_PER_MPH:.0f} mph",
    Measure.FORCE: lambda newtons: f"{newtons / _NEWTONS_PER_POUND:.0f} lbf",
    Measure.TEMPERATURE: lambda celsius: f"{celsius * 1.8 + 32:.0f} °F",
    Measure.VOLUME: lambda cubic_m: f"{cubic_m / METRES_PER_FOOT**3:.0f} cu ft",
    Measure.DISTANCE: lambda km: f"{round(km / _KM_PER_MILE, 1):g} miles",
    Measure.CENTS_BY_DISTANCE: lambda cents: f"{round(cents * _KM_PER_MILE, 1):g} cents a mile",
}
