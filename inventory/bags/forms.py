from typing import Any

from crispy_forms.layout import HTML
from django import forms
from django.urls import reverse

from decor.form_layout import form_helper
from inventory.models import Bag

PLACES = (
    '<datalist id="places-known">{% for place in places %}<option value="{{ place }}">'
    "{% endfor %}</datalist>"
)


class BagForm(forms.ModelForm):
    class Meta:
        model = Bag
        fields = ("place", "lot", "note")
        help_texts = {"place": "The cupboard or box it is in."}
        widgets = {"place": forms.TextInput(attrs={"list": "places-known", "autocomplete": "off"})}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.helper = form_helper(
            "place",
            HTML(PLACES),
            "lot",
            "note",
            submit="Save",
            keep=f"bag-{self.instance.pk}",
            back_url=reverse("bag_detail", args=[self.instance.pk]),
        )
