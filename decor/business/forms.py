import zoneinfo
from typing import Any

from crispy_forms.layout import HTML
from django import forms
from django.core.exceptions import ValidationError
from django.core.validators import URLValidator

from decor.coordinates import HELP, CoordinatesField
from decor.form_layout import form_helper
from decor.models import Business
from decor.models.located import Coordinates
from decor.payments.bank import bic_read, iban_read, iban_text
from decor.pictures import ACCEPT, Picture, PictureRefused, logo_read

LOGO_NOW = "decor/business/partials/logo_now.html"
LOGO_LONGEST_PX = 1200
MOST_MINUTES_BEFORE = 48 * 60
LONGEST_WINDOW = 8 * 60
MOST_DAYS_AFTER = 366
LEAST_SESSION = 30
LONGEST_SESSION = 24 * 60


class SafeLinkField(forms.URLField):
    """Clients follow it to pay: nothing but https will do, and it is what they get where the
    beginning was left out."""

    default_validators = [URLValidator(schemes=["https"])]

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(assume_scheme="https", **kwargs)


class BusinessForm(forms.ModelForm):
    new_logo = forms.FileField(
        label="Logo",
        required=False,
        widget=forms.FileInput(attrs={"accept": ACCEPT}),
        help_text="JPEG, PNG or WebP. It stands at the head of every quote.",
    )
    no_logo = forms.BooleanField(label="Use no logo", required=False)
    # Written with spaces they are longer than they are kept.
    account_iban = forms.CharField(
        label="IBAN",
        max_length=60,
        required=False,
        help_text="If you take bank transfers. With prices in euros, clients also get a code that "
        "their bank’s app reads.",
    )
    account_bic = forms.CharField(label="BIC", max_length=20, required=False)
    ready_before_minutes = forms.IntegerField(
        label="Minutes it hangs before an event begins",
        min_value=0,
        max_value=MOST_MINUTES_BEFORE,
        help_text="New installs are planned to end so long before.",
    )
    arrival_window_minutes = forms.IntegerField(
        label="Minutes within which you come",
        min_value=0,
        max_value=LONGEST_WINDOW,
        help_text="30: a client is told “between 9 and 9:30”.",
    )
    session_minutes_most = forms.IntegerField(
        label="Minutes at the bench for one job on one day, at most",
        min_value=LEAST_SESSION,
        max_value=LONGEST_SESSION,
        help_text="Of each person. What takes longer is spread over more days.",
    )
    client_page_days = forms.IntegerField(
        label="Days after the event that a client’s page can be opened",
        min_value=0,
        max_value=MOST_DAYS_AFTER,
        help_text="Then the link that you sent them shows nothing any more.",
    )
    coordinates = CoordinatesField(help_text=f"{HELP} Used for places that have none of their own.")

    class Meta:
        model = Business
        fields = (
            "name",
            "owner_name",
            "strapline",
            "email",
            "phone",
            "address",
            "units",
            "currency",
            "timezone",
            "paper",
            "how_to_accept",
            "how_to_pay",
            "payment_link",
            "account_name",
            "account_iban",
            "account_bic",
            "ready_before_minutes",
            "arrival_window_minutes",
            "client_page_days",
            "session_minutes_most",
        )
        field_classes = {"payment_link": SafeLinkField}
        labels = {
            "owner_name": "Your name",
            "timezone": "Time zone",
            "paper": "Paper of your PDFs",
            "how_to_accept": "How a client accepts a quote",
            "how_to_pay": "How a client pays",
            "payment_link": "Link for paying online",
            "account_name": "Account holder",
        }
        help_texts = {
            "strapline": "A few words under the name: “Garlands made by hand in Wexcombe Bay”.",
            "currency": "Amounts already written keep their numbers; they are not converted.",
            "timezone": "Type your nearest big city and choose from the list.",
            "how_to_accept": "Stands on each quote, in your own words.",
            "how_to_pay": "Stands on client pages and statements, in your own words. What to put "
            "with the payment is added.",
            "payment_link": "Paste it from whoever takes payments for you. It begins with https.",
            "account_name": "As the bank has it, if it is not the name of your business.",
        }
        widgets = {
            "address": forms.Textarea(attrs={"rows": 3}),
            "how_to_accept": forms.Textarea(attrs={"rows": 4}),
            "how_to_pay": forms.Textarea(attrs={"rows": 4}),
            "timezone": forms.TextInput(attrs={"list": "time-zones", "autocomplete": "off"}),
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.picture: Picture | None = None
        self.initial["coordinates"] = self.instance.coordinates
        self.initial["account_iban"] = iban_text(self.instance.account_iban)
        self.helper = form_helper(
            HTML('<h2>On your quotes</h2>{% include "' + LOGO_NOW + '" %}'),
            "new_logo",
            "no_logo",
            "name",
            "owner_name",
            "strapline",
            "email",
            "phone",
            "address",
            "how_to_accept",
            "client_page_days",
            HTML('<h2 class="mt-4">How you are paid</h2>'),
            "how_to_pay",
            "payment_link",
            "account_name",
            "account_iban",
            "account_bic",
            HTML('<h2 class="mt-4">How you make and install</h2>'),
            "session_minutes_most",
            "ready_before_minutes",
            "arrival_window_minutes",
            HTML('<h2 class="mt-4">How things are written</h2>'),
            "units",
            "currency",
            "paper",
            "timezone",
            "coordinates",
            submit="Save",
            keep="business",
        )

    def clean_coordinates(self) -> Coordinates | None:
        self.instance.coordinates = self.cleaned_data["coordinates"]
        return self.cleaned_data["coordinates"]

    def clean_timezone(self) -> str:
        return time_zone_meant(self.cleaned_data["timezone"])

    def clean_account_iban(self) -> str:
        typed = self.cleaned_data["account_iban"]
        return iban_read(typed) if typed else ""

    def clean_account_bic(self) -> str:
        typed = self.cleaned_data["account_bic"]
        return bic_read(typed) if typed else ""

    def clean_new_logo(self) -> None:
        upload = self.cleaned_data["new_logo"]
        if not upload:
            return
        try:
            self.picture = logo_read(upload, longest_px=LOGO_LONGEST_PX)
        except PictureRefused as refused:
            raise ValidationError(str(refused), code="logo") from None


def time_zone_meant(typed: str) -> str:
    """`america/new york` is meant for `America/New_York`; what is no place stays as it is."""
    spelt = typed.strip().replace(" ", "_")
    return next((zone for zone in time_zones() if zone.lower() == spelt.lower()), spelt)


def time_zones() -> list[str]:
    """The places people know, without the database's own spellings such as `Etc/GMT+5`."""
    return sorted(
        zone
        for zone in zoneinfo.available_timezones()
        if "/" in zone and not zone.startswith(("Etc/", "SystemV/", "posix/", "right/"))
    )
