from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from decor.display import money_text
from decor.fields import MoneyField
from decor.jobs.stages import SAY_WHY
from quoting.calling_off.answer import CallingOff
from quoting.calling_off.service import MORE_THAN_AGREED, Who

NOT_THEN = "When we call it off, everything goes back: leave this empty."
LONGEST_WHY = 200


class CallOffForm(forms.Form):
    """`shown_kept` and `shown_paid` are the sums that the page showed: what is confirmed is what
    was looked at."""

    who = forms.ChoiceField(label="Who calls it off", choices=Who.choices, widget=forms.RadioSelect)
    why = forms.CharField(label="Why", max_length=LONGEST_WHY, error_messages={"required": SAY_WHY})
    keep = MoneyField(label="Keep another amount", required=False)
    shown_kept = forms.IntegerField(widget=forms.HiddenInput)
    shown_paid = forms.IntegerField(widget=forms.HiddenInput)

    def __init__(self, *args: Any, answer: CallingOff, currency: str, **kwargs: Any) -> None:
        shown = {"shown_kept": answer.kept_cents, "shown_paid": answer.paid_cents}
        super().__init__(*args, initial={"who": Who.CLIENT} | shown, **kwargs)
        self.answer, self.currency = answer, currency
        kept = money_text(answer.kept_cents, currency)
        self.fields["keep"].label = f"Keep another amount ({currency})"
        self.fields["keep"].help_text = f"If you agree on something else than {kept}."

    def clean_keep(self) -> int | None:
        keep = self.cleaned_data["keep"]
        if keep is None:
            return None
        if self.cleaned_data.get("who") == Who.US:
            raise ValidationError(NOT_THEN, code="us")
        if keep > self.answer.total_cents:
            raise ValidationError(MORE_THAN_AGREED, code="more")
        return keep

    def shown(self) -> tuple[int, int]:
        return self.cleaned_data["shown_kept"], self.cleaned_data["shown_paid"]
