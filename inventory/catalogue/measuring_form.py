from decimal import Decimal

from django import forms

from decor.pictures import ACCEPT
from inventory.catalogue.measuring import Area
from inventory.models.item import HEX_COLOUR

CHOOSE_A_PHOTO = "Take or choose a photo first."
A_PER_CENT = "A number from 0 to 100, please."
PAST_THE_RIGHT = "The area ends beyond the right edge: it is at most {most:f} % wide from there."
PAST_THE_FOOT = "The area ends below the photo: it is at most {most:f} % high from there."
WHOLE = Decimal(100)


def _per_cent(label: str, initial: int, least: str = "0") -> forms.DecimalField:
    return forms.DecimalField(
        label=label,
        initial=initial,
        min_value=Decimal(least),
        max_value=WHOLE,
        widget=forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off"}),
        error_messages=dict.fromkeys(("required", "invalid", "min_value", "max_value"), A_PER_CENT),
    )


class MeasuringForm(forms.Form):
    """The area begins as the middle of the photo, where one holds the balloon."""

    photo = forms.FileField(
        label="A photo of the balloon",
        help_text="JPEG, PNG or WebP, up to 20 MB. It is looked at once and not kept.",
        widget=forms.FileInput(attrs={"accept": ACCEPT}),
        error_messages={"required": CHOOSE_A_PHOTO, "empty": CHOOSE_A_PHOTO},
    )
    left = _per_cent("From the left, %", 42)
    top = _per_cent("From the top, %", 42)
    width = _per_cent("Width, %", 16, "0.1")
    height = _per_cent("Height, %", 16, "0.1")

    def clean(self) -> None:
        said = self.cleaned_data
        for start, length, message in (
            ("left", "width", PAST_THE_RIGHT),
            ("top", "height", PAST_THE_FOOT),
        ):
            if start in said and length in said and said[start] + said[length] > WHOLE:
                self.add_error(length, message.format(most=WHOLE - said[start]))

    def area(self) -> Area:
        return Area(
            **{name: self.cleaned_data[name] for name in ("left", "top", "width", "height")}
        )


class MeasuredForm(forms.Form):
    hex = forms.CharField(max_length=7, validators=[HEX_COLOUR])
