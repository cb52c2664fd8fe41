from typing import Any

from django import forms
from django.urls import reverse

from decor.form_layout import form_helper
from inventory.models import ShelfSettings


class ShelfSettingsForm(forms.ModelForm):
    class Meta:
        model = ShelfSettings
        fields = ("latex_best_months", "days_to_spare")
        labels = {
            "latex_best_months": "Months for which latex is good",
            "days_to_spare": "Days to spare when ordering",
        }
        help_texts = {
            "latex_best_months": "From the day it came, kept cool and dark. About a year and a "
            "half is usual. Three months before the end a bag says “use soon”.",
            "days_to_spare": "The buy list says to order so many days before it would be just in "
            "time for the day of making.",
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.helper = form_helper(
            "latex_best_months",
            "days_to_spare",
            submit="Save",
            keep="shelf-settings",
            back_url=reverse("shelf"),
        )
