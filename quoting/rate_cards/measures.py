"""How each kind of rate is typed and said: by the mile or km, in pounds or kg, `4 min`, `35 %`."""

from dataclasses import dataclass
from typing import Any, Final, Protocol

from babel.numbers import format_currency
from django import forms

from decor.display import METRES_PER_FOOT, METRES_PER_MILE, money_text, percent_text
from decor.fields import MoneyField
from decor.models.business import Units
from quoting.rate_cards.fields import QuantityField, RatePercentField, SecondsField
from quoting.rate_cards.scales import Scale, seconds_text

WHOLE_BP: Final = 10_000
FINE_MONEY: Final = "¤#,##0.00##"  # a rate by the mile may have parts of a cent
KM_PER_MILE: Final = METRES_PER_MILE / 1000
CUBIC_METRES_PER_CUBIC_FOOT: Final = METRES_PER_FOOT**3
LITRES_PER_CUBIC_METRE: Final = 1000
NEWTONS_PER_KILOGRAM: Final = 9.80665  # standard gravity, exact by convention (CGPM 1901)
NEWTONS_PER_POUND: Final = 0.45359237 * NEWTONS_PER_KILOGRAM  # the international pound of 1959


@dataclass(frozen=True)
class Showing:
    """How this business says its rates."""

    units: str
    currency: str

    @property
    def is_metric(self) -> bool:
        return self.units == Units.METRIC

    @property
    def distance(self) -> str:
        return "km" if self.is_metric else "mile"


class Measure(Protocol):
    def field(self, showing: Showing, **kwargs: Any) -> forms.Field: ...

    def text(self, value: Any, showing: Showing) -> str: ...

    def unit(self, showing: Showing) -> str:
        """In which the field is typed; empty where that is said otherwise."""
        ...


@dataclass(frozen=True)
class Money:
    per: str = ""
    min_cents: int = 0
    max_cents: int = 100_000_000

    def field(self, showing: Showing, **kwargs: Any) -> forms.Field:
        limits = {"min_cents": self.min_cents, "max_cents": self.max_cents}
        return MoneyField(currency=showing.currency, **limits, **kwargs)

    def text(self, value: int | None, showing: Showing) -> str:
        if value is None:
            return "the usual wage"
        return f"{money_text(value, showing.currency)} {self.per}".strip()

    def unit(self, showing: Showing) -> str:
        return showing.currency


@dataclass(frozen=True)
class Percent:
    """Of basis points."""

    of: str = ""
    max_bp: int = WHOLE_BP
    out_of_range: str = ""

    def field(self, showing: Showing, **kwargs: Any) -> forms.Field:
        return RatePercentField(max_bp=self.max_bp, out_of_range=self.out_of_range, **kwargs)

    def text(self, value: int, showing: Showing) -> str:
        return f"{percent_text(value)} {self.of}".strip()

    def unit(self, showing: Showing) -> str:
        return "%"


@dataclass(frozen=True)
class Share:
    """A share kept as a fraction; `above` is taken off first: a factor of 1.35 is 35 % more."""

    low: float
    high: float
    of: str = ""
    above: float = 0.0

    def field(self, showing: Showing, **kwargs: Any) -> forms.Field:
        return QuantityField(scale=self._scale, low=self.low, high=self.high, **kwargs)

    def text(self, value: float, showing: Showing) -> str:
        return f"{self._scale.said(value)} % {self.of}".strip()

    @property
    def _scale(self) -> Scale:
        return Scale("%", 1 / 100, self.above)

    def unit(self, showing: Showing) -> str:
        return "%"


@dataclass(frozen=True)
class Quantity:
    """An amount with a unit of its own in each system."""

    imperial: Scale
    metric: Scale
    low: float
    high: float

    def field(self, showing: Showing, **kwargs: Any) -> forms.Field:
        return QuantityField(scale=self._scale(showing), low=self.low, high=self.high, **kwargs)

    def text(self, value: float, showing: Showing) -> str:
        scale = self._scale(showing)
        return f"{scale.said(value)} {scale.unit}"

    def unit(self, showing: Showing) -> str:
        return self._scale(showing).unit

    def _scale(self, showing: Showing) -> Scale:
        return self.metric if showing.is_metric else self.imperial


@dataclass(frozen=True)
class PerDistance:
    """Money for each mile or km, kept as cents a km, with fractions."""

    high: float = 10_000

    def field(self, showing: Showing, **kwargs: Any) -> forms.Field:
        return QuantityField(scale=self._scale(showing), low=0, high=self.high, **kwargs)

    def text(self, value: float, showing: Showing) -> str:
        money = self._scale(showing).typed(value)
        said = format_currency(
            money, showing.currency, FINE_MONEY, locale="en_US", currency_digits=False
        )
        return f"{said} a {showing.distance}"

    def unit(self, showing: Showing) -> str:
        return showing.currency

    def _scale(self, showing: Showing) -> Scale:
        km = 1.0 if showing.is_metric else KM_PER_MILE
        return Scale(f"{showing.currency} a {showing.distance}", 100 / km, decimals=(2, 4))


@dataclass(frozen=True)
class Seconds:
    low: float = 0
    high: float = 36_000

    def field(self, showing: Showing, **kwargs: Any) -> forms.Field:
        return SecondsField(low=self.low, high=self.high, **kwargs)

    def text(self, value: float, showing: Showing) -> str:
        return seconds_text(value)

    def unit(self, showing: Showing) -> str:
        return ""


@dataclass(frozen=True)
class Days:
    high: int = 365

    def field(self, showing: Showing, **kwargs: Any) -> forms.Field:
        return forms.IntegerField(min_value=0, max_value=self.high, **kwargs)

    def text(self, value: int, showing: Showing) -> str:
        return "1 day" if value == 1 else f"{value} days"

    def unit(self, showing: Showing) -> str:
        return "days"


@dataclass(frozen=True)
class YesNo:
    yes: str
    no: str

    def field(self, showing: Showing, **kwargs: Any) -> forms.Field:
        return forms.TypedChoiceField(
            choices=[("True", self.yes.capitalize()), ("False", self.no.capitalize())],
            coerce=lambda said: str(said) == "True",  # Django coerces what it was before, too
            widget=forms.RadioSelect,
            **kwargs,
        )

    def text(self, value: bool, showing: Showing) -> str:
        return self.yes if value else self.no

    def unit(self, showing: Showing) -> str:
        return ""


@dataclass(frozen=True)
class OneOf:
    options: tuple[str, ...]

    def field(self, showing: Showing, **kwargs: Any) -> forms.Field:
        choices = [(option, option.capitalize()) for option in self.options]
        return forms.ChoiceField(choices=choices, **kwargs)

    def text(self, value: str, showing: Showing) -> str:
        return value

    def unit(self, showing: Showing) -> str:
        return ""


FORCE: Final = Quantity(
    imperial=Scale("lb", NEWTONS_PER_POUND),
    metric=Scale("kg", NEWTONS_PER_KILOGRAM),
    low=1,
    high=5000,
)
WIND: Final = Quantity(
    imperial=Scale("mph", METRES_PER_MILE / 3600),
    metric=Scale("km/h", 1000 / 3600),
    low=0,
    high=60,
)
AIR_FLOW: Final = Quantity(
    imperial=Scale("cubic feet a minute", CUBIC_METRES_PER_CUBIC_FOOT),
    metric=Scale("litres a minute", 1 / LITRES_PER_CUBIC_METRE),
    low=0.01,
    high=20,
)
BAG_ROOM: Final = Quantity(
    imperial=Scale("cubic feet", CUBIC_METRES_PER_CUBIC_FOOT),
    metric=Scale("litres", 1 / LITRES_PER_CUBIC_METRE),
    low=0.01,
    high=10,
)
CAR_ROOM: Final = Quantity(
    imperial=Scale("cubic feet", CUBIC_METRES_PER_CUBIC_FOOT),
    metric=Scale("cubic metres", 1.0),
    low=0.1,
    high=100,
)
