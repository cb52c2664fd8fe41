from typing import Final

from django import forms

from decor.fields import MoneyField
from quoting.pieces.budgets import LENGTH, WIDTH

NO_BUDGET: Final = "Write what it may cost with tax, such as 600."
LEAST_CENTS: Final = 100


class BudgetForm(forms.Form):
    by = forms.ChoiceField(
        label="Change its",
        choices=[(WIDTH, "width, so how full it is"), (LENGTH, "length, its shape kept")],
        widget=forms.RadioSelect,
        initial=WIDTH,
    )

    def __init__(self, *args: object, currency: str, **kwargs: object) -> None:
        super().__init__(*args, use_required_attribute=False, **kwargs)
        budget = MoneyField(currency=currency, min_cents=LEAST_CENTS, label="Total with tax")
        budget.error_messages["required"] = NO_BUDGET
        budget.widget.attrs |= {"class": "form-control", "autocomplete": "off"}
        self.fields["budget"] = budget
