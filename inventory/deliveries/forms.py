"""Who brought it, when and on which note; and its rows, as typed or from a file."""

import uuid
from collections.abc import Sequence
from datetime import date
from typing import Any

from django import forms
from django.http import QueryDict

from decor.display import date_text
from inventory.buying.arriving import could_be_of, orders_to_come
from inventory.deliveries.csv_file import BYTES_MOST, TOO_BIG
from inventory.deliveries.items import items_by_name, usual_bags
from inventory.deliveries.rows import COLUMNS, DeliveryRow, ReadRow, RowReader
from inventory.models import Delivery, Order, Supplier

ROWS_SHOWN = 30
SUPPLIER_MISSING = "Who brought it?"
DAY_MISSING = "On which day did it come?"
NOT_YET = "This day has not come yet."
ROWS_MISSING = "Fill in at least one row."
NOT_ORDERED = "none"
OF_NO_ORDER = "None of these: it was not ordered here"
IS_IT_THIS = "Is this the order of {day}? Something that came is expected of it."
WHICH_ORDER = "Which of these orders is it? Something that came is expected of them."
NOT_OPEN_NOW = "This order is no longer open: all of it came, or it was called off."
OF_ANOTHER = "That was ordered from {supplier}."
NO_FILE = "Choose a file, or paste its lines below."
# Of a row these alone say nothing: a place copied down does not make a row.
TELLING = tuple(column for column in COLUMNS if column != "place")


class DeliveryForm(forms.Form):
    supplier = forms.ModelChoiceField(
        queryset=None, empty_label="Choose", error_messages={"required": SUPPLIER_MISSING}
    )
    note_number = forms.CharField(
        label="Number of the delivery note",
        max_length=60,
        required=False,
        help_text="So that nothing is entered twice.",
    )
    received_on = forms.DateField(
        label="Came on",
        widget=forms.DateInput(format="%Y-%m-%d", attrs={"type": "date"}),
        error_messages={"required": DAY_MISSING},
    )
    order = forms.ChoiceField(
        label="Is it something you ordered?",
        required=False,
        widget=forms.RadioSelect,
        help_text="What came of an order is no longer expected, so that it is not counted twice.",
        error_messages={"invalid_choice": NOT_OPEN_NOW},
    )
    entry_key = forms.UUIDField(widget=forms.HiddenInput)

    def __init__(self, *args: Any, today: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.today = today
        self.entered_before: Delivery | None = None
        self.fields["supplier"].queryset = Supplier.objects.filter(archived_at=None)
        self.open_orders = {str(order.pk): order for order in orders_to_come()}
        self.fields["order"].choices = [
            *((pk, _order_label(order)) for pk, order in self.open_orders.items()),
            (NOT_ORDERED, OF_NO_ORDER),
        ]
        self.initial = {"received_on": today, "entry_key": uuid.uuid4(), **self.initial}

    def clean_received_on(self) -> date:
        day = self.cleaned_data["received_on"]
        if day > self.today:
            raise forms.ValidationError(NOT_YET)
        return day

    def clean(self) -> dict[str, Any]:
        said = super().clean()
        order = self.open_orders.get(said.get("order", ""))
        if order and said.get("supplier") and order.supplier_id != said["supplier"].pk:
            self.add_error("order", OF_ANOTHER.format(supplier=order.supplier))
        return said

    @property
    def meant(self) -> Order | None:
        return self.open_orders.get(self.cleaned_data["order"])

    def is_order_said(self, rows: Sequence[DeliveryRow]) -> bool:
        """Where something that came is on order from this supplier, she says whether it is that."""
        if self.cleaned_data["order"]:
            return True
        supplier = self.cleaned_data["supplier"]
        could_be = [
            order
            for order in self.open_orders.values()
            if could_be_of(order, supplier=supplier, rows=rows)
        ]
        if could_be:
            day = date_text(could_be[0].ordered_on)
            said = IS_IT_THIS.format(day=day) if len(could_be) == 1 else WHICH_ORDER
            self.add_error("order", said)
        return not could_be

    def head(self) -> dict[str, Any]:
        names = ("note_number", "received_on", "entry_key")
        return {name: self.cleaned_data[name] for name in names}


class CsvForm(DeliveryForm):
    file = forms.FileField(
        label="CSV file",
        required=False,
        widget=forms.FileInput(attrs={"accept": ".csv,text/csv,text/plain"}),
    )
    text = forms.CharField(
        label="Its lines",
        required=False,
        strip=False,
        max_length=BYTES_MOST,
        widget=forms.Textarea(attrs={"rows": 10, "spellcheck": "false", "wrap": "off"}),
        error_messages={"max_length": TOO_BIG},
        help_text="Paste them, or mend here what was wrong in the file.",
    )

    def clean(self) -> dict[str, Any]:
        said = super().clean()
        if not said.get("file") and not said.get("text", "").strip() and "text" not in self.errors:
            self.add_error("file", NO_FILE)
        return said


def _order_label(order: Order) -> str:
    to_come = ", ".join(
        f"{line.left} bag{'' if line.left == 1 else 's'} of {line.item}" for line in order.to_come
    )
    return f"{order.supplier}, ordered {date_text(order.ordered_on)}. To come: {to_come}"


def row_reader(supplier_id: int | None) -> RowReader:
    items = items_by_name()
    return RowReader(items, usual_bags(items.items, supplier_id))


def rows_typed(post: QueryDict, reader: RowReader) -> list[ReadRow]:
    """Those that say something, in order; a row keeps the number that it has on the page."""
    columns = [post.getlist(column) for column in COLUMNS]
    typed = [dict(zip(COLUMNS, cells, strict=True)) for cells in zip(*columns, strict=False)]
    return [
        reader.read(number, row)
        for number, row in enumerate(typed, start=1)
        if any(row[column].strip() for column in TELLING)
    ]


def rows_shown(read: Sequence[ReadRow], *, first_item: str) -> list[ReadRow]:
    """As typed, each on its own line of the page, with blank ones between and after."""
    blank = dict.fromkeys(COLUMNS, "")
    typed = {row.number: row for row in read} or {1: ReadRow(1, {**blank, "item": first_item})}
    last = max(ROWS_SHOWN, *typed)
    return [typed.get(number, ReadRow(number, blank)) for number in range(1, last + 1)]
