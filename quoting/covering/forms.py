from datetime import date
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from decor.jobs.days import DayInput, day_to_come
from quoting.covering.answer import Answer, CoverLine

WHEN = "When could they be here?"
NO_SUPPLIER = "No supplier of yours sells it yet, so say by when you could have it."


class BuyListForm(forms.Form):
    """One press puts all that is missing on the buy list; a day is asked for only where no
    supplier says how long it takes."""

    def __init__(self, *args: Any, answer: Answer, today: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.answer, self.today = answer, today
        self.lines = {
            f"arrives_{line.item.pk}": line
            for line in answer.unacknowledged
            if line.purchase is None
        }
        for name, line in self.lines.items():
            self.fields[name] = forms.DateField(
                label=f"{line.item}: {WHEN[0].lower()}{WHEN[1:]}",
                help_text=NO_SUPPLIER,
                widget=DayInput(),
                error_messages={"required": "Choose a day."},
            )

    def clean(self) -> None:
        for name in self.lines:
            try:
                day_to_come(self.cleaned_data.get(name), today=self.today)
            except ValidationError as error:
                self.add_error(name, error)

    def own_days(self) -> dict[int, date]:
        return {line.item.pk: self.cleaned_data[name] for name, line in self.lines.items()}

    @property
    def rows(self) -> list[tuple[CoverLine, Any]]:
        """Each short line with the field that belongs to it, None where nothing is asked."""
        names = {line.item.pk: name for name, line in self.lines.items()}
        return [
            (line, self[names[line.item.pk]] if line.item.pk in names else None)
            for line in self.answer.short
        ]
