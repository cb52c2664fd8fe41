"""Who brought it, when and on which note; and its rows, as typed or from a file."""

import uuid
from collections.abc import Sequence
from datetime import date
from typing import Any

from django import forms
from django.http import QueryDict

from inventory.deliveries.csv_file import BYTES_MOST, TOO_BIG
from inventory.deliveries.items import items_by_name, usual_bags
from inventory.deliveries.rows import COLUMNS, ReadRow, RowReader
from inventory.models import Delivery, Supplier

ROWS_SHOWN = 30
SUPPLIER_MISSING = "Who brought it?"
DAY_MISSING = "On which day did it come?"
NOT_YET = "This day has not come yet."
ROWS_MISSING = "Fill in at least one row."
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
    entry_key = forms.UUIDField(widget=forms.HiddenInput)

    def __init__(self, *args: Any, today: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.today = today
        self.entered_before: Delivery | None = None
        self.fields["supplier"].queryset = Supplier.objects.filter(archived_at=None)
        self.initial = {"received_on": today, "entry_key": uuid.uuid4(), **self.initial}

    def clean_received_on(self) -> date:
        day = self.cleaned_data["received_on"]
        if day > self.today:
            raise forms.ValidationError(NOT_YET)
        return day

    def head(self) -> dict[str, Any]:
        names = ("supplier", "note_number", "received_on", "entry_key")
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
