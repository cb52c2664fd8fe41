from datetime import date
from typing import Any

from django import forms

from decor.jobs.days import DayInput, day_to_come


class DayForm(forms.Form):
    """For which day to count. One that cannot be is as good as today, with the reason beside."""

    on = forms.DateField(label="Free on", widget=DayInput())

    def __init__(self, *args: Any, today: date, **kwargs: Any) -> None:
        super().__init__(*args, initial={"on": today}, **kwargs)
        self.today = today

    def clean_on(self) -> date:
        return day_to_come(self.cleaned_data["on"], today=self.today) or self.today

    def day(self) -> date:
        return self.cleaned_data.get("on") or self.today if self.is_valid() else self.today
