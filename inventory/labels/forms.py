from typing import Any

from django import forms

from inventory.labels.printing import LABELS_MOST, TOO_MANY
from inventory.labels.sheets import SHEET_OF, LabelSheet, sheets_for
from inventory.models import Bag

NONE_CHOSEN = "Choose at least one bag."
FIRST_WRONG = "This sheet has labels 1 to {most}."


class LabelForm(forms.Form):
    bag = forms.ModelMultipleChoiceField(
        queryset=None, label="Bags", error_messages={"required": NONE_CHOSEN}
    )
    sheet = forms.ChoiceField(label="Label sheet")
    first = forms.IntegerField(
        label="First label to use",
        min_value=1,
        initial=1,
        help_text="Counted along the rows. For a sheet that is begun already.",
    )

    def __init__(self, *args: Any, bags: Any, paper: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["bag"].queryset = bags
        self.fields["sheet"].choices = [(each.key, each.name) for each in sheets_for(paper)]

    def clean_bag(self) -> list[Bag]:
        bags = list(self.cleaned_data["bag"])
        if len(bags) > LABELS_MOST:
            raise forms.ValidationError(TOO_MANY)
        return bags

    def clean(self) -> dict[str, Any]:
        said = super().clean()
        sheet = SHEET_OF.get(said.get("sheet", ""))
        if sheet and said.get("first", 1) > sheet.per_sheet:
            self.add_error("first", FIRST_WRONG.format(most=sheet.per_sheet))
        return said

    def chosen_sheet(self) -> LabelSheet:
        return SHEET_OF[self.cleaned_data["sheet"]]
