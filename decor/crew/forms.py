from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.urls import reverse

from decor.form_layout import form_helper
from decor.models import CrewMember

DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
WORKS = "1"
NAME_IS_TAKEN = "Someone of your crew has this name. Tell them apart."


class HoursField(forms.DecimalField):
    """Hours such as `6` or `6.5` to whole minutes."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(min_value=0, max_value=24, decimal_places=2, **kwargs)
        self.widget.attrs["step"] = "0.25"

    def clean(self, value: Any) -> int | None:
        hours = super().clean(value)
        return None if hours is None else round(hours * 60)

    def prepare_value(self, value: Any) -> Any:
        return f"{round(Decimal(value) / 60, 2).normalize():f}" if isinstance(value, int) else value


class CrewForm(forms.ModelForm):
    making_minutes_a_day = HoursField(
        label="Hours of making in a day", help_text="At the bench, without breaks."
    )
    install_minutes_a_day = HoursField(
        label="Hours of installing in a day", help_text="At places and on the road."
    )
    days = forms.MultipleChoiceField(
        label="Days of the week they work",
        choices=[(str(n), day) for n, day in enumerate(DAYS)],
        required=False,
        widget=forms.CheckboxSelectMultiple,
    )

    class Meta:
        model = CrewMember
        fields = ("name", "phone", "making_minutes_a_day", "install_minutes_a_day")
        widgets = {"phone": forms.TextInput(attrs={"type": "tel", "autocomplete": "off"})}

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.initial["days"] = [
            str(n) for n, works in enumerate(self.instance.week) if works == WORKS
        ]
        self.keep = f"crew-{self.instance.pk or 'new'}"
        self.helper = form_helper(
            "name",
            "phone",
            "making_minutes_a_day",
            "install_minutes_a_day",
            "days",
            submit="Save",
            keep=self.keep,
            back_url=reverse("crew_list"),
        )

    def clean_name(self) -> str:
        name = self.cleaned_data["name"].strip()
        others = CrewMember.objects.filter(archived_at=None).exclude(pk=self.instance.pk)
        if others.filter(name__iexact=name).exists():
            raise ValidationError(NAME_IS_TAKEN)
        return name

    def clean_days(self) -> list[str]:
        days = self.cleaned_data["days"]
        self.instance.week = "".join(WORKS if str(n) in days else "0" for n in range(len(DAYS)))
        return days
