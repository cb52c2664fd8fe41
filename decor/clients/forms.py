from decimal import Decimal, InvalidOperation
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.urls import reverse

from decor.clients.keys import PHONE_DIGITS, phone_key
from decor.coordinates import CoordinatesField
from decor.display import METRES_PER_MILE
from decor.form_layout import form_helper
from decor.models import Client, Site
from decor.models.business import Units
from decor.models.located import Coordinates

METRES_PER_KM = 1000
FARTHEST_M = 5_000_000
LONGEST_DRIVE = 72 * 60
PHONE_IS_SHORT = "A phone number has at least seven digits. Put anything else under “other way”."
NO_WAY_TO_REACH = "Give at least one way to reach them: email, phone or another."
DISTANCE_IS_WRONG = "Write a distance such as {example}."
DISTANCE_IS_FAR = "Between 0 and {most} {unit}, please."


class ClientForm(forms.ModelForm):
    class Meta:
        model = Client
        fields = ("name", "email", "phone", "other_contact", "note")
        labels = {"other_contact": "Other way to reach them"}
        help_texts = {"note": "Anything worth knowing next time. Clients never see it."}
        widgets = {
            "note": forms.Textarea(attrs={"rows": 5}),
            "phone": forms.TextInput(attrs={"type": "tel", "autocomplete": "off"}),
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.helper = form_helper(
            *self._meta.fields,
            submit="Save the client",
            keep=f"client-{self.instance.pk}",
            back_url=reverse("client_detail", args=[self.instance.pk]),
        )

    def clean_phone(self) -> str:
        phone = self.cleaned_data["phone"]
        if phone and len(phone_key(phone)) not in PHONE_DIGITS:
            raise ValidationError(PHONE_IS_SHORT, code="phone")
        return phone

    def clean(self) -> None:
        super().clean()
        said = self.cleaned_data
        ways = ("email", "phone", "other_contact")
        if all(way in said for way in ways) and not any(said[way] for way in ways):
            self.add_error("email", NO_WAY_TO_REACH)


class ClientSearchForm(forms.Form):
    search = forms.CharField(required=False, max_length=120)

    def wanted(self) -> str:
        """What cannot be searched for is as good as nothing."""
        return self.cleaned_data["search"] if self.is_valid() else ""


class DistanceField(forms.CharField):
    """A road's length in miles or kilometres to whole metres."""

    def __init__(self, *, units: str, **kwargs: Any) -> None:
        is_metric = units == Units.METRIC
        self.unit = "km" if is_metric else "miles"
        self._metres_per = Decimal(METRES_PER_KM if is_metric else str(METRES_PER_MILE))
        super().__init__(**kwargs)
        self.widget.attrs.setdefault("inputmode", "decimal")

    def to_python(self, value: Any) -> int | None:
        text = super().to_python(value)
        if text in self.empty_values:
            return None
        metres = self._number(text) * self._metres_per
        if not 0 <= metres <= FARTHEST_M:
            most = int(FARTHEST_M / self._metres_per)
            raise ValidationError(DISTANCE_IS_FAR.format(most=most, unit=self.unit))
        return round(metres)

    def prepare_value(self, value: Any) -> Any:
        return f"{value / self._metres_per:.1f}" if isinstance(value, int) else value

    def _number(self, text: str) -> Decimal:
        try:
            number = Decimal(text.lower().removesuffix(self.unit).strip().replace(",", "."))
        except InvalidOperation:
            number = Decimal("NaN")
        if not number.is_finite():
            raise ValidationError(DISTANCE_IS_WRONG.format(example=f"12.5 {self.unit}"))
        return number


class SiteForm(forms.ModelForm):
    class Meta:
        model = Site
        fields = (
            "name",
            "address",
            "is_outdoor",
            "contact_name",
            "contact_phone",
            "access_note",
            "parking_note",
            "drive_minutes",
        )
        labels = {
            "is_outdoor": "It hangs outdoors",
            "contact_name": "Whom to ask for there",
            "contact_phone": "Their phone",
            "access_note": "Getting in",
            "parking_note": "Parking",
            "drive_minutes": "Minutes to drive, one way",
        }
        help_texts = {
            "name": "As you and they call it: “library porch”.",
            "contact_name": "Empty: your client.",
            "access_note": "Keys, stairs, who opens up and when.",
            "parking_note": "Where to unload, and where the car may stay.",
        }
        widgets = {
            "address": forms.Textarea(attrs={"rows": 3}),
            "contact_phone": forms.TextInput(attrs={"type": "tel", "autocomplete": "off"}),
            "access_note": forms.Textarea(attrs={"rows": 3}),
            "parking_note": forms.Textarea(attrs={"rows": 2}),
        }

    def __init__(self, *args: Any, units: str, back_url: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        distance = DistanceField(units=units, required=False)
        distance.label = f"Distance in {distance.unit}, one way"
        self.fields["distance_m"] = distance
        self.initial["distance_m"] = self.instance.distance_m
        self.fields["drive_minutes"].widget.attrs["max"] = LONGEST_DRIVE
        self.fields["coordinates"] = CoordinatesField()
        self.initial["coordinates"] = self.instance.coordinates
        self.keep = f"place-{self.instance.pk or f'new-{self.instance.client_id}'}"
        self.helper = form_helper(
            "name",
            "address",
            "is_outdoor",
            "contact_name",
            "contact_phone",
            "access_note",
            "parking_note",
            "distance_m",
            "drive_minutes",
            "coordinates",
            submit="Save the place",
            keep=self.keep,
            back_url=back_url,
        )

    def clean_drive_minutes(self) -> int | None:
        minutes = self.cleaned_data["drive_minutes"]
        if minutes is not None and minutes > LONGEST_DRIVE:
            raise ValidationError(f"At most {LONGEST_DRIVE} minutes, please.", code="far")
        return minutes

    def clean_coordinates(self) -> Coordinates | None:
        self.instance.coordinates = self.cleaned_data["coordinates"]
        return self.cleaned_data["coordinates"]

    def clean_distance_m(self) -> int | None:
        self.instance.distance_m = self.cleaned_data["distance_m"]
        return self.cleaned_data["distance_m"]
