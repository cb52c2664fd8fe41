from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from decor.jobs.photos import LONGEST_PX
from decor.models import Business
from decor.pictures import ACCEPT, Picture, PictureRefused, photo_read
from inventory.models import Item
from inventory.models.item import Kind
from quoting.installing.forecast import gust_mps, site_c
from quoting.models import VisitForecast
from quoting.pieces.measures import GustField, TemperatureField, gust_text, temperature_text

COLDEST_C, HOTTEST_C, STRONGEST_MPS = -30, 50, 60
MOST_AT_ONCE = 500


class ForecastForm(forms.Form):
    rain = forms.BooleanField(required=False, label="It may rain")
    source = forms.CharField(
        required=False,
        max_length=80,
        label="Whose forecast it is",
        help_text="So that you know where to look again.",
    )

    def __init__(self, *args: Any, business: Business, kept: VisitForecast | None, **kwargs: Any):
        units = business.units
        if kept is not None:
            kwargs["initial"] = _initial(kept, units)
        super().__init__(*args, **kwargs)
        self.fields["gust"] = GustField(
            units=units,
            max_mps=STRONGEST_MPS,
            required=False,
            label="Strongest gust",
            help_text="Such as 20 mph or 9 m/s.",
        )
        self.fields["temperature"] = TemperatureField(
            units=units,
            min_c=COLDEST_C,
            max_c=HOTTEST_C,
            required=False,
            label="Temperature there",
            help_text="Such as 40 F or 4 C.",
        )
        self.order_fields(["gust", "temperature", "rain", "source"])


class SignForm(forms.Form):
    typed_name = forms.CharField(
        max_length=120,
        label="Name of who takes it over",
        widget=forms.TextInput(attrs={"autocomplete": "off", "autocapitalize": "words"}),
    )
    note = forms.CharField(
        required=False,
        max_length=600,
        label="What they say about it",
        widget=forms.Textarea(attrs={"rows": 2}),
    )
    photo = forms.FileField(
        required=False,
        label="Photo of it",
        widget=forms.FileInput(attrs={"accept": ACCEPT, "capture": "environment"}),
    )

    picture: Picture | None = None

    def clean_photo(self) -> None:
        upload = self.cleaned_data["photo"]
        if not upload:
            return
        try:
            self.picture = photo_read(upload, longest_px=LONGEST_PX)
        except PictureRefused as refused:
            raise ValidationError(str(refused), code="photo") from None


class MaterialForm(forms.Form):
    item = forms.ModelChoiceField(
        Item.objects.none(), label="What you take along", empty_label="Choose"
    )
    quantity = forms.IntegerField(min_value=1, max_value=MOST_AT_ONCE, label="How many")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        on_shelf = Item.objects.exclude(kind=Kind.SUNDRY).filter(bags__left__gt=0)
        self.fields["item"].queryset = on_shelf.select_related("colour").distinct()


def _initial(kept: VisitForecast, units: str) -> dict[str, object]:
    gust, celsius = gust_mps(kept), site_c(kept)
    return {
        "gust": "" if gust is None else gust_text(gust, units),
        "temperature": "" if celsius is None else temperature_text(celsius, units),
        "rain": kept.rain,
        "source": kept.source,
    }
