"""Rate cards for tests."""

from dataclasses import replace
from datetime import date
from typing import Any

from quoting.estimator import Rates, example_rates, rates_to_dict
from quoting.models import RateCard
from quoting.rate_cards.forms import RateCardForm
from quoting.rate_cards.measures import Showing
from tests.factories import RateCardFactory

IMPERIAL = Showing("imperial", "USD")
METRIC = Showing("metric", "EUR")
TODAY = date(2026, 6, 13)


def rates_with(**changes: Any) -> Rates:
    return replace(example_rates(), **changes)


def card_with(*, version: int, starts_on: date = TODAY, **changes: Any) -> RateCard:
    rates = rates_to_dict(rates_with(**changes))
    return RateCardFactory(version=version, starts_on=starts_on, rates=rates)


def form_for(
    rates: Rates, *, showing: Showing = IMPERIAL, terms: str = "", data: dict | None = None
) -> RateCardForm:
    return RateCardForm(data, rates=rates, terms=terms, showing=showing, today=TODAY)


def as_sent(form: RateCardForm) -> dict[str, str]:
    """What a browser sends back when nothing is touched."""
    typed = {}
    for name in form.fields:
        value = form[name].value()
        if value is not None:
            typed[name] = value.isoformat() if isinstance(value, date) else str(value)
    return typed


def sent(rates: Rates, *, showing: Showing = IMPERIAL, **changes: str) -> RateCardForm:
    """The form as it comes back with these fields typed over, read."""
    data = as_sent(form_for(rates, showing=showing)) | changes
    form = form_for(rates, showing=showing, data=data)
    form.full_clean()
    return form
