from typing import Any

from crispy_forms.layout import HTML, Div
from django import forms

from decor.business.forms import time_zone_meant
from decor.form_layout import form_helper
from decor.models.business import Currency, Paper, Units, validate_timezone
from quoting.estimator import Rates, example_rates, rates_from_dict, rates_to_dict
from quoting.first_run.service import FirstAnswers
from quoting.rate_cards.folds import HOURS, MARGIN, MINIMUM, PAYING, TAX, TRAVEL
from quoting.rate_cards.lines import RateLine, rate_field
from quoting.rate_cards.measures import Showing

NAME_MISSING = "What is your business called? It stands on every quote."
WAGE, TRAVEL_RATE = HOURS.lines[0], TRAVEL.lines[0]
TAX_RATE, TAX_SAID = TAX.lines
DEPOSIT, MARGIN_RATE, LEAST = PAYING.lines[0], MARGIN.lines[0], MINIMUM.lines[0]
RATES_ASKED = (WAGE, MARGIN_RATE, LEAST, TRAVEL_RATE, DEPOSIT, TAX_RATE, TAX_SAID)
TYPED_AT_FIRST = {TRAVEL_RATE.field_name: "0.70", TAX_RATE.field_name: 0}
LABELS = {
    WAGE: "Your wage for an hour",
    LEAST: "Smallest order you take",
    TRAVEL_RATE: "For each mile on the road, or km if you use metres",
    DEPOSIT: "Deposit (%)",
    MARGIN_RATE: "Margin (%)",
    TAX_RATE: "Tax (%)",
}
HELP = {
    MARGIN_RATE: "The share of a price that is left when all costs, your hours too, are paid. "
    "35 % margin is 53.85 % markup.",
    TRAVEL_RATE: "What your car costs you.",
    TAX_RATE: "0 if you charge none. Which tax you owe is for your tax office to say.",
}


class FirstRunForm(forms.Form):
    name = forms.CharField(
        label="Business name", max_length=80, error_messages={"required": NAME_MISSING}
    )
    owner_name = forms.CharField(label="Your name", max_length=80, required=False)
    units = forms.ChoiceField(
        label="Lengths in", choices=Units.choices, initial=Units.IMPERIAL, widget=forms.RadioSelect
    )
    currency = forms.ChoiceField(choices=Currency.choices, initial=Currency.USD)
    timezone = forms.CharField(
        label="Time zone",
        max_length=40,
        initial="America/New_York",
        widget=forms.TextInput(attrs={"list": "time-zones", "autocomplete": "off"}),
        help_text="Type your nearest big city and choose from the list.",
    )
    paper = forms.ChoiceField(
        label="Paper of your PDFs",
        choices=Paper.choices,
        initial=Paper.LETTER,
        widget=forms.RadioSelect,
    )
    with_starter_catalogue = forms.BooleanField(
        label="Start with twelve colours and the usual sundries, with example prices",
        required=False,
        initial=True,
        help_text="So that the first estimate works at once. Put your own prices in when you like.",
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.base = rates_to_dict(example_rates())
        for line in RATES_ASKED:
            self.fields[line.field_name] = self._rate_field(line)
        self.helper = form_helper(
            Div("name", "owner_name", css_class="first-pair"),
            Div("units", "paper", css_class="first-pair"),
            Div("currency", "timezone", css_class="first-pair"),
            HTML(
                "<h2>A few rates</h2><p class='soft'>Good enough to start with. All of them, and "
                "many more, are under “Rates” later.</p>"
            ),
            Div(WAGE.field_name, MARGIN_RATE.field_name, css_class="first-pair"),
            Div(LEAST.field_name, DEPOSIT.field_name, css_class="first-pair"),
            Div(TRAVEL_RATE.field_name, TAX_RATE.field_name, css_class="first-pair"),
            TAX_SAID.field_name,
            HTML("<h2>Your catalogue</h2>"),
            "with_starter_catalogue",
            submit="Begin",
            keep="first-run",
        )

    def _rate_field(self, line: RateLine) -> forms.Field:
        said = {"initial": TYPED_AT_FIRST.get(line.field_name, line.value(self.base))}
        if line in LABELS:
            said["label"] = LABELS[line]
        return rate_field(line, self._showing(), **said, help_text=HELP.get(line, ""))

    def _showing(self) -> Showing:
        """As chosen above in this very form, so that a rate by the mile is read as one."""
        return Showing(
            units=self.data.get("units", Units.IMPERIAL),
            currency=self._currency(),
        )

    def _currency(self) -> str:
        chosen = self.data.get("currency", Currency.USD)
        return chosen if chosen in Currency.values else Currency.USD

    def clean_timezone(self) -> str:
        zone = time_zone_meant(self.cleaned_data["timezone"])
        validate_timezone(zone)
        return zone

    def answers(self) -> FirstAnswers:
        said = self.cleaned_data
        return FirstAnswers(
            name=said["name"],
            owner_name=said["owner_name"],
            units=said["units"],
            currency=said["currency"],
            timezone=said["timezone"],
            paper=said["paper"],
            rates=self._rates(),
            with_starter_catalogue=said["with_starter_catalogue"],
        )

    def _rates(self) -> Rates:
        data = {**self.base, "currency": self.cleaned_data["currency"]}
        for line in RATES_ASKED:
            line.put(data, self.cleaned_data[line.field_name])
        return rates_from_dict(data)
