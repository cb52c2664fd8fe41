from datetime import date
from typing import Any

from django import forms

from decor.jobs.days import DayInput, day_to_come
from quoting.covering.answer import Answer

WHEN = "By when could you have {what}?"
ALL_OF_IT = "all of it"
NO_SUPPLIER = (
    "No supplier of yours sells {what} yet, so it is your own word that counts: "
    "the day on which the last of it can be here."
)
NAMED_MOST = 3


class BuyListForm(forms.Form):
    """One press puts all that is missing on the buy list. A day is asked for only where no
    supplier says how long it takes, and one day for all of that."""

    arrives_on = forms.DateField(widget=DayInput(), error_messages={"required": "Choose a day."})

    def __init__(self, *args: Any, answer: Answer, today: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.today = today
        self.lines = [line for line in answer.unacknowledged if line.purchase is None]
        if not self.lines:
            del self.fields["arrives_on"]
            return
        field = self.fields["arrives_on"]
        is_all = len(self.lines) == len(answer.short) > 1
        names = [str(line.item) for line in self.lines]
        more = len(names) - NAMED_MOST
        if more > 1:
            names = [*names[:NAMED_MOST], f"{more} more things"]
        what = " and ".join(filter(None, [", ".join(names[:-1]), names[-1]]))
        field.label = WHEN.format(what=ALL_OF_IT if is_all else what)
        field.help_text = NO_SUPPLIER.format(what="them" if len(names) > 1 else "it")

    def clean_arrives_on(self) -> date:
        return day_to_come(self.cleaned_data["arrives_on"], today=self.today)

    def own_days(self) -> dict[int, date]:
        return {line.item.pk: self.cleaned_data["arrives_on"] for line in self.lines}
