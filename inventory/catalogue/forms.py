from typing import Any

from crispy_forms.layout import HTML, Div
from django import forms
from django.core.exceptions import ValidationError
from django.urls import reverse
from django.utils.html import format_html

from decor.fields import MoneyField
from decor.form_layout import form_helper
from inventory.catalogue.service import (
    FOIL,
    SIZES_IN,
    BagPrice,
    Bags,
    bags_of,
    units_of_estimated_sundries,
)
from inventory.models import Colour, Item
from inventory.models.item import HEX_COLOUR, Finish, Kind

BAG_MOST = 100_000
COUNT_ERRORS = ("required", "invalid", "min_value", "max_value")
NAME_MISSING = "What do you call it?"
NAME_TAKEN = "You have a colour called {name} already."
NAME_PUT_AWAY = "{name} is in your catalogue, archived. Bring it back instead."
SUNDRY_TAKEN = "There is {name} in your catalogue already."
SUNDRY_PUT_AWAY = "{name} is in your catalogue, archived. Bring it back instead."
COUNT_WRONG = "{what} in a bag: a whole number from 1 to 100,000, please."
COUNT_MISSING = "{what}: how many are in the bag?"
PRICE_MISSING = "{what}: what does the bag cost? Write 0 if it costs nothing."
BAG_MISSING = "{what}: special order is ticked. Fill in the bag, or take the tick away."
SUNDRY_COUNT_WRONG = "A whole number from 1 to 100,000, please."
SUNDRY_PRICE_MISSING = "What does it cost? Write 0 if it costs nothing."
NOTHING_BOUGHT = "Fill in the bag of at least one size, or of starburst points."
UNIT_IS_OTHER = "Estimates count {name} {unit}."
NAME_IS_KNOWN = "Estimates know it by this name, so the name stays."

EACH, METRES = "each", "m"
UNITS = [(EACH, "One by one"), (METRES, "By the metre")]
UNIT_WORDS = {EACH: "one by one", METRES: "by the metre"}
BAG_LABELS = {size: f"{size}-inch" for size in SIZES_IN} | {FOIL: "Foil starburst points"}


def _slot(size: int | None) -> str:
    return "foil" if size is FOIL else str(size)


def _label(what: str, short: str) -> str:
    """Short to the eye, as the row says what it is of; whole to a screen reader."""
    return format_html('<span class="visually-hidden">{}: </span>{}', what, short)


class _HexField(forms.CharField):
    def to_python(self, value: Any) -> str:
        return super().to_python(value).lower()


class ColourForm(forms.Form):
    """A colour and all that is bought of it: a row for each size, one for foil points."""

    name = forms.CharField(
        max_length=60,
        help_text="Your own word for it.",
        error_messages={"required": NAME_MISSING},
    )
    hex = _HexField(
        label="How it looks",
        max_length=7,
        initial="#c9b58f",
        validators=[HEX_COLOUR],
        widget=forms.TextInput(attrs={"type": "color", "class": "form-control-color"}),
        help_text="Pick what an inflated balloon looks like to your eye, in daylight.",
    )
    finish = forms.ChoiceField(choices=Finish.choices, initial=Finish.PLAIN)

    def __init__(
        self, *args: Any, currency: str, colour: Colour | None = None, **kwargs: Any
    ) -> None:
        self.colour = colour
        if colour:
            kwargs["initial"] = _initial(colour)
        super().__init__(*args, **kwargs)
        for size in BAG_LABELS:
            self._add_bag_fields(size, currency)
        keep = f"colour-{colour.pk}" if colour else "colour-new"
        self.helper = form_helper(
            Div("name", "hex", "finish", css_class="colour-fields"),
            HTML("<h2>What you buy of it</h2>"),
            HTML(
                "<p class='soft'>Leave a size empty if you do not buy it. “Special order” is "
                "charged by the whole bag, as the rest of the bag may never be used.</p>"
            ),
            *(self._bag_row(size) for size in BAG_LABELS),
            submit="Save the colour",
            keep=keep,
            back_url=reverse("catalogue"),
        )
        self.helper.form_id = "colour-form"

    def _add_bag_fields(self, size: int | None, currency: str) -> None:
        slot, what = _slot(size), BAG_LABELS[size]
        wrong = COUNT_WRONG.format(what=what)
        self.fields[f"count_{slot}"] = forms.IntegerField(
            label=_label(what, "In a bag"),
            min_value=1,
            max_value=BAG_MOST,
            required=False,
            error_messages=dict.fromkeys(COUNT_ERRORS, wrong),
        )
        self.fields[f"price_{slot}"] = MoneyField(
            label=_label(what, f"Bag price, {currency}"), currency=currency, required=False
        )
        self.fields[f"special_{slot}"] = forms.BooleanField(
            label=_label(what, "Special order"), required=False
        )

    def _bag_row(self, size: int | None) -> Div:
        slot = _slot(size)
        heading = format_html('<h3 id="bag-{}">{}</h3>', slot, BAG_LABELS[size])
        names = [f"{field}_{slot}" for field in ("count", "price", "special")]
        return Div(
            HTML(heading),
            *names,
            css_class="bag-row plain-labels",
            role="group",
            aria_labelledby=f"bag-{slot}",
        )

    def clean_name(self) -> str:
        name = " ".join(self.cleaned_data["name"].split())
        others = Colour.objects.exclude(pk=self.colour.pk if self.colour else None)
        same = [colour for colour in others if colour.name.casefold() == name.casefold()]
        if same:
            message = NAME_PUT_AWAY if same[0].is_archived else NAME_TAKEN
            raise ValidationError(message.format(name=same[0].name), code="taken")
        return name

    def clean(self) -> None:
        for size, what in BAG_LABELS.items():
            self._check_bag(_slot(size), what)
        if not self.errors and not self.bags():
            self.add_error(f"count_{SIZES_IN[1]}", NOTHING_BOUGHT)

    def _check_bag(self, slot: str, what: str) -> None:
        count, price = f"count_{slot}", f"price_{slot}"
        if count in self.errors or price in self.errors:
            return
        has_count = self.cleaned_data[count] is not None
        has_price = self.cleaned_data[price] is not None
        if has_price and not has_count:
            self.add_error(count, COUNT_MISSING.format(what=what))
        elif has_count and not has_price:
            self.add_error(price, PRICE_MISSING.format(what=what))
        elif self.cleaned_data[f"special_{slot}"] and not has_count:
            self.add_error(count, BAG_MISSING.format(what=what))

    def bags(self) -> Bags:
        said = self.cleaned_data
        return {
            size: BagPrice(
                count=said[f"count_{slot}"],
                cents=said[f"price_{slot}"],
                is_special_order=said[f"special_{slot}"],
            )
            for size, slot in ((size, _slot(size)) for size in BAG_LABELS)
            if said[f"count_{slot}"] is not None
        }


def _initial(colour: Colour) -> dict[str, Any]:
    initial = {"name": colour.name, "hex": colour.hex, "finish": colour.finish}
    for size, bag in bags_of(colour).items():
        slot = _slot(size)
        initial |= {
            f"count_{slot}": bag.count,
            f"price_{slot}": bag.cents,
            f"special_{slot}": bag.is_special_order,
        }
    return initial


class SundryForm(forms.Form):
    name = forms.CharField(
        label="What is it",
        max_length=60,
        widget=forms.TextInput(attrs={"list": "estimated-sundries", "autocomplete": "off"}),
        error_messages={"required": NAME_MISSING},
    )
    unit = forms.ChoiceField(label="How it is counted", choices=UNITS, widget=forms.RadioSelect)
    count = forms.IntegerField(
        label="How many, or how many metres, you get at once",
        min_value=1,
        max_value=BAG_MOST,
        error_messages=dict.fromkeys(COUNT_ERRORS, SUNDRY_COUNT_WRONG),
    )

    def __init__(
        self, *args: Any, currency: str, sundry: Item | None = None, name: str = "", **kwargs: Any
    ) -> None:
        self.sundry = sundry
        self.estimated = units_of_estimated_sundries()
        kwargs["initial"] = _sundry_initial(sundry, name, self.estimated)
        super().__init__(*args, **kwargs)
        self.fields["price"] = MoneyField(
            label=f"What that costs, {currency}",
            currency=currency,
            error_messages={"required": SUNDRY_PRICE_MISSING},
        )
        if sundry and sundry.name in self.estimated:
            self.fields["name"].disabled = True
            self.fields["name"].help_text = NAME_IS_KNOWN
        self.helper = form_helper(
            "name",
            "unit",
            "count",
            "price",
            submit="Save",
            keep=f"sundry-{sundry.pk}" if sundry else "sundry-new",
            back_url=reverse("catalogue"),
        )

    def clean_name(self) -> str:
        name = " ".join(self.cleaned_data["name"].split())
        name = name.lower() if name.lower() in self.estimated else name
        others = Item.objects.filter(kind=Kind.SUNDRY)
        others = others.exclude(pk=self.sundry.pk if self.sundry else None)
        same = [other for other in others if other.name.casefold() == name.casefold()]
        if same:
            message = SUNDRY_PUT_AWAY if same[0].is_archived else SUNDRY_TAKEN
            raise ValidationError(message.format(name=same[0].name), code="taken")
        return name

    def clean_unit(self) -> str:
        name, unit = self.cleaned_data.get("name"), self.cleaned_data["unit"]
        wanted = self.estimated.get(name or "", unit)
        if unit != wanted:
            message = UNIT_IS_OTHER.format(name=name, unit=UNIT_WORDS[wanted])
            raise ValidationError(message, code="unit")
        return unit

    def bag(self) -> BagPrice:
        return BagPrice(count=self.cleaned_data["count"], cents=self.cleaned_data["price"])


def _sundry_initial(sundry: Item | None, name: str, estimated: dict[str, str]) -> dict[str, Any]:
    if sundry is None:
        return {"name": name, "unit": estimated.get(name, EACH)}
    return {
        "name": sundry.name,
        "unit": sundry.unit,
        "count": sundry.bag_count,
        "price": sundry.bag_cents,
    }
