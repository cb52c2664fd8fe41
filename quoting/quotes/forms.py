from datetime import date
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.urls import reverse

from decor.fields import MoneyField, PercentField
from decor.form_layout import form_helper
from decor.jobs.days import DayInput
from decor.models import Business
from quoting.models import ExtraLine, Quote
from quoting.models.quote import DiscountKind
from quoting.quotes.service import QuoteText

MOST_OF_A_LINE = 1000
DAY_HAS_GONE = "That day has gone. Choose today or a later day."
AFTER_EVENT = "A quote cannot run out after the event, on {day:%d %B %Y}."
SAY_HOW_MUCH = "Say how much the discount is."
SAY_WHY = "Say why in a few words: it stands on the quote."


class ConditionsForm(forms.Form):
    """What a quote says beside its lines."""

    message = forms.CharField(
        label="A few words to the client",
        required=False,
        max_length=2000,
        widget=forms.Textarea(attrs={"rows": 5}),
        help_text="Stands at the top of the quote, in your own voice.",
    )
    expires_on = forms.DateField(
        label="Good until",
        widget=DayInput,
        help_text="Usually two weeks, and the day before the event at the latest.",
    )
    is_outside_hours = forms.BooleanField(
        label="Work outside usual hours",
        required=False,
        help_text="Adds what your rate card says for evenings, nights and holidays.",
    )
    includes_strike = forms.BooleanField(
        label="Come back to take it down",
        required=False,
        help_text="Adds the second visit and the fee for it.",
    )
    terms = forms.CharField(
        label="Terms",
        required=False,
        max_length=8000,
        widget=forms.Textarea(attrs={"rows": 10}),
        help_text="Copied from your rate card. What you change here is for this quote only.",
    )

    def __init__(self, *args: Any, quote: Quote, today: date, **kwargs: Any) -> None:
        names = QuoteText.__dataclass_fields__
        kwargs.setdefault("initial", {name: getattr(quote, name) for name in names})
        super().__init__(*args, **kwargs)
        self.quote, self.today = quote, today
        self.helper = form_helper(
            *names,
            submit="Save",
            keep=f"quote-{quote.pk}",
            back_url=reverse("quote_detail", args=[quote.pk]),
        )

    def clean_expires_on(self) -> date:
        day, event_on = self.cleaned_data["expires_on"], self.quote.job.event_on
        if day < self.today:
            raise ValidationError(DAY_HAS_GONE, code="past")
        if event_on and self.today <= event_on < day:
            raise ValidationError(AFTER_EVENT.format(day=event_on), code="after")
        return day

    def text(self) -> QuoteText:
        return QuoteText(**self.cleaned_data)


class DiscountForm(forms.Form):
    kind = forms.ChoiceField(label="Discount", choices=DiscountKind, widget=forms.RadioSelect)
    percent = PercentField(
        label="Per cent off", required=False, help_text="Of the whole price before tax."
    )
    reason = forms.CharField(
        label="Why",
        required=False,
        max_length=120,
        help_text="The client reads it: “Second booking this year”.",
    )

    def __init__(self, *args: Any, quote: Quote, business: Business, **kwargs: Any) -> None:
        initial = {
            "kind": quote.discount_kind,
            "percent": quote.discount_bp or None,
            "amount": quote.discount_cents or None,
            "reason": quote.discount_reason,
        }
        super().__init__(*args, initial=initial, **kwargs)
        self.fields["amount"] = MoneyField(
            label="Amount off", required=False, currency=business.currency
        )
        self.helper = form_helper(
            "kind",
            "percent",
            "amount",
            "reason",
            submit="Save",
            keep=f"discount-{quote.pk}",
            back_url=reverse("quote_detail", args=[quote.pk]),
        )

    def clean(self) -> None:
        kind, given = self.cleaned_data.get("kind"), self.cleaned_data
        field = {DiscountKind.PERCENT: "percent", DiscountKind.AMOUNT: "amount"}.get(kind)
        if field and field not in self.errors and not given.get(field):
            self.add_error(field, SAY_HOW_MUCH)
        if field and not given.get("reason") and "reason" not in self.errors:
            self.add_error("reason", SAY_WHY)

    def values(self) -> dict[str, Any]:
        given = self.cleaned_data
        return {
            "kind": given["kind"],
            "bp": given["percent"] or 0,
            "cents": given["amount"] or 0,
            "reason": given["reason"],
        }


class ExtraLineForm(forms.Form):
    label = forms.CharField(
        label="What it is",
        max_length=120,
        help_text="As the client reads it: “Hired oak backdrop”.",
        error_messages={"required": "Say what it is."},
    )
    quantity = forms.IntegerField(
        label="How many",
        min_value=1,
        max_value=MOST_OF_A_LINE,
        initial=1,
        error_messages={
            "required": "Say how many.",
            "invalid": "Write a whole number such as 2.",
            "min_value": "At least 1, please.",
            "max_value": f"At most {MOST_OF_A_LINE}, please.",
        },
    )

    def __init__(
        self,
        *args: Any,
        quote: Quote,
        business: Business,
        line: ExtraLine | None = None,
        **kwargs: Any,
    ) -> None:
        if line:
            kwargs["initial"] = {
                "label": line.label,
                "quantity": line.quantity,
                "unit_cents": line.unit_cents,
            }
        super().__init__(*args, **kwargs)
        self.fields["unit_cents"] = MoneyField(
            label="Price for one, before tax",
            currency=business.currency,
            help_text="What the client pays: no margin is added to it.",
            error_messages={"required": "Say what one costs the client."},
        )
        self.helper = form_helper(
            "label",
            "quantity",
            "unit_cents",
            submit="Save",
            keep=f"line-{line.pk}" if line else f"line-of-{quote.pk}",
            back_url=reverse("quote_detail", args=[quote.pk]),
        )
