"""How far ahead to buy; marking as ordered; receiving."""

import uuid
from collections.abc import Iterable
from datetime import date, timedelta
from typing import Any

from django import forms

from decor.fields import MoneyField
from inventory.buying.orders import Came, OrderRow
from inventory.buying.service import ToOrder
from inventory.deliveries.forms import DAY_MISSING, NOT_YET
from inventory.models import Item, Order, Supplier

DAYS_AHEAD = (14, 30, 90, 180, 365)
DAYS_USUAL = 90
BAGS_MOST = 200
COUNT_MOST = 100_000
ROWS_MORE = 2
PREFIX = "line"

NOTHING_ELSE = "Nothing else"
BAGS_HOW_MANY = "A whole number of bags, none to leave it out."
COUNT_HOW_MANY = "How many are in a bag?"
PRICE_MISSING = "What does a bag cost?"
SUPPLIER_MISSING = "From whom?"
EXPECTED_BEFORE = "It cannot come before it is ordered."


class AheadForm(forms.Form):
    days = forms.TypedChoiceField(
        label="For jobs of the next",
        choices=[(days, f"{days} days") for days in DAYS_AHEAD],
        coerce=int,
        required=False,
        empty_value=DAYS_USUAL,
        widget=forms.Select(attrs={"class": "form-select"}),
    )

    def wanted(self) -> int:
        """The usual, where something else was asked than is offered."""
        return self.cleaned_data["days"] if self.is_valid() else DAYS_USUAL


def day_field(label: str, missing: str, **options: Any) -> forms.DateField:
    return forms.DateField(
        label=label,
        widget=forms.DateInput(format="%Y-%m-%d", attrs={"type": "date"}),
        error_messages={"required": missing},
        **options,
    )


class OrderForm(forms.Form):
    supplier = forms.ModelChoiceField(
        queryset=None, empty_label="Choose", error_messages={"required": SUPPLIER_MISSING}
    )
    ordered_on = day_field("Ordered on", "On which day?")
    expected_on = day_field("Should come on", "When should it come?")
    delivery = MoneyField(label="Delivery charge", required=False)
    note = forms.CharField(max_length=300, required=False)
    entry_key = forms.UUIDField(widget=forms.HiddenInput)

    def __init__(self, *args: Any, currency: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["delivery"].currency = currency
        self.fields["supplier"].queryset = Supplier.objects.filter(archived_at=None)

    def clean(self) -> dict[str, Any]:
        said = super().clean()
        ordered_on, expected_on = said.get("ordered_on"), said.get("expected_on")
        if ordered_on and expected_on and expected_on < ordered_on:
            self.add_error("expected_on", EXPECTED_BEFORE)
        return said


def order_initial(supplier: Supplier | None, *, today: date) -> dict[str, Any]:
    known: dict[str, Any] = {"ordered_on": today, "entry_key": uuid.uuid4()}
    if supplier is not None:
        known["supplier"] = supplier
        known["expected_on"] = today + timedelta(days=supplier.lead_days)
        known["delivery"] = supplier.delivery_cents
    return known


class OrderLineForm(forms.Form):
    """Without an item it says nothing, and so does one of no bags."""

    item = forms.ModelChoiceField(queryset=None, required=False)
    bags = forms.IntegerField(
        min_value=0,
        max_value=BAGS_MOST,
        required=False,
        widget=forms.TextInput(attrs={"inputmode": "numeric"}),
        error_messages={"invalid": BAGS_HOW_MANY},
    )
    bag_count = forms.IntegerField(
        label="In a bag",
        min_value=1,
        max_value=COUNT_MOST,
        required=False,
        widget=forms.TextInput(attrs={"inputmode": "numeric"}),
        error_messages={"invalid": COUNT_HOW_MANY},
    )
    price = MoneyField(label="Price of one", required=False)

    def __init__(self, *args: Any, currency: str, items: Iterable[Item], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.items = items
        self.fields["price"].currency = currency
        self.fields["item"].queryset = Item.objects.all()
        self.fields["item"].choices = [("", NOTHING_ELSE), *((item.pk, item) for item in items)]

    @property
    def shown_item(self) -> Item | None:
        """As the row says, whatever the buy list says by now."""
        number = str(self["item"].value() or "")
        return next((item for item in self.items if str(item.pk) == number), None)

    def clean(self) -> dict[str, Any]:
        said = super().clean()
        if said.get("item") and said.get("bags"):
            if not said.get("bag_count") and "bag_count" not in self.errors:
                self.add_error("bag_count", COUNT_HOW_MANY)
            if said.get("price") is None and "price" not in self.errors:
                self.add_error("price", PRICE_MISSING)
        return said

    def row(self) -> OrderRow | None:
        said = self.cleaned_data
        if not said.get("item") or not said.get("bags"):
            return None
        return OrderRow(said["item"], said["bag_count"], said["bags"], said["price"])


def lines_initial(order: ToOrder | None) -> list[dict[str, Any]]:
    lines = order.lines if order else ()
    return [
        {
            "item": line.shortfall.item,
            "bags": bags.bags,
            "bag_count": bags.bag_count,
            "price": bags.bag_cents,
        }
        for line in lines
        for bags in line.bags
    ]


class ReceiveForm(forms.Form):
    """The note and the day; then for each line of the order how many bags came."""

    received_on = day_field("Came on", DAY_MISSING)
    note_number = forms.CharField(
        label="Number of the delivery note",
        max_length=60,
        required=False,
        help_text="So that nothing is entered twice.",
    )
    entry_key = forms.UUIDField(widget=forms.HiddenInput)

    def __init__(self, *args: Any, order: Order, today: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.today = today
        self.lines = [line for line in order.lines.all() if line.to_come]
        self.initial = {"received_on": today, "entry_key": uuid.uuid4(), **self.initial}
        for line in self.lines:
            self.fields[f"bags_{line.pk}"] = forms.IntegerField(
                label="Bags",
                min_value=0,
                max_value=line.to_come,
                required=False,
                initial=line.to_come,
                widget=forms.TextInput(attrs={"inputmode": "numeric"}),
                error_messages={"invalid": BAGS_HOW_MANY},
            )
            self.fields[f"lot_{line.pk}"] = forms.CharField(
                label="Lot", max_length=40, required=False
            )
            self.fields[f"place_{line.pk}"] = forms.CharField(
                label="Place",
                max_length=60,
                required=False,
                widget=forms.TextInput(attrs={"list": "places-known"}),
            )

    def rows(self) -> list[tuple[Any, ...]]:
        """For the page: each line with its fields."""
        return [
            (line, *(self[f"{name}_{line.pk}"] for name in ("bags", "lot", "place")))
            for line in self.lines
        ]

    def clean_received_on(self) -> date:
        day = self.cleaned_data["received_on"]
        if day > self.today:
            raise forms.ValidationError(NOT_YET)
        return day

    def came(self) -> list[Came]:
        said = self.cleaned_data
        return [
            Came(
                line,
                said[f"bags_{line.pk}"] or 0,
                said[f"lot_{line.pk}"],
                said[f"place_{line.pk}"],
            )
            for line in self.lines
        ]


class ExpectForm(forms.Form):
    expected_on = day_field("Should come on", "When should it come?")
