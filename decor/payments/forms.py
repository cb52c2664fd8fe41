import secrets
from datetime import date, timedelta
from typing import Any

from crispy_forms.layout import Div
from django import forms
from django.core.exceptions import ValidationError
from django.urls import reverse

from decor.display import money_text
from decor.fields import MoneyField
from decor.form_layout import form_helper
from decor.jobs.days import DayInput
from decor.jobs.stages import SAY_WHY
from decor.models.payment import Means
from decor.payments.account import Account
from decor.payments.service import MORE_THAN_NOTHING, NOT_PAID_SO_MUCH

LONGEST_AGO = timedelta(days=5 * 366)
NOT_YET = "This day has not come yet: enter money once it is there."
TOO_LONG_AGO = "Choose a day within the last five years."
MORE_THAN_OWED = (
    "That is {more} more than is owed. If so much came, tick the box below and save again."
)
AT_MOST = "{refusal} At most {paid} came."


class MoneyForm(forms.Form):
    """`once` is new with every page, so that two presses of its button are told from two entries
    of the same amount."""

    amount = MoneyField(error_messages={"required": MORE_THAN_NOTHING})
    means = forms.ChoiceField(label="How", choices=Means.choices, widget=forms.RadioSelect)
    on = forms.DateField(label="On", widget=DayInput)
    note = forms.CharField(label="Note", max_length=300, required=False)
    once = forms.CharField(widget=forms.HiddenInput, max_length=32)

    def __init__(
        self, *args: Any, account: Account, currency: str, today: date, **kwargs: Any
    ) -> None:
        initial = {"on": today, "means": Means.TRANSFER, "once": secrets.token_hex(16)}
        kwargs["initial"] = initial | kwargs.get("initial", {})
        super().__init__(*args, **kwargs)
        self.account, self.currency, self.today = account, currency, today
        self.fields["amount"].label = f"Amount ({currency})"

    def money(self, cents: int) -> str:
        return money_text(cents, self.currency)

    def clean_amount(self) -> int:
        cents = self.cleaned_data["amount"]
        if not cents:
            raise ValidationError(MORE_THAN_NOTHING, code="zero")
        return cents

    def clean_on(self) -> date:
        on = self.cleaned_data["on"]
        if on > self.today:
            raise ValidationError(NOT_YET, code="future")
        if on < self.today - LONGEST_AGO:
            raise ValidationError(TOO_LONG_AGO, code="past")
        return on

    def layout(self, *more: str, submit: str, keep: str) -> None:
        self.helper = form_helper(
            Div("amount", "on", css_class="pair"),
            "means",
            "note",
            *more,
            "once",
            submit=submit,
            keep=keep,
            back_url=reverse("job_detail", args=[self.account.job.pk]),
        )


class PaymentForm(MoneyForm):
    is_more = forms.BooleanField(label="So much really came", required=False)

    def __init__(self, *args: Any, account: Account, **kwargs: Any) -> None:
        due = account.next_due
        kwargs["initial"] = {"amount": due.open_cents if due else None}
        super().__init__(*args, account=account, **kwargs)
        self.fields["amount"].help_text = self._help()
        self.layout(submit="Enter the payment", keep=f"payment-{account.job.pk}")

    def _help(self) -> str:
        account = self.account
        due = account.next_due
        if due is None or due.open_cents == account.balance_cents:
            return "Part of it is fine too." if due else ""
        part, whole = self.money(due.open_cents), self.money(account.balance_cents)
        return f"{due.name}: {part}. With all the rest: {whole}. Part of it is fine too."

    def clean(self) -> None:
        cents = self.cleaned_data.get("amount")
        more = (cents or 0) - self.account.balance_cents
        if not (cents and self.account.has_schedule and more > 0):
            return
        if not self.cleaned_data.get("is_more"):
            self.add_error("amount", MORE_THAN_OWED.format(more=self.money(more)))
            self.layout(
                "is_more", submit="Enter the payment", keep=f"payment-{self.account.job.pk}"
            )


class RefundForm(MoneyForm):
    def __init__(self, *args: Any, account: Account, **kwargs: Any) -> None:
        kwargs["initial"] = {"amount": account.refund_due_cents or None}
        super().__init__(*args, account=account, **kwargs)
        self.fields["amount"].help_text = f"So far {self.money(account.paid_cents)} came."
        self.fields["note"].label = "Why"
        self.fields["note"].required = True
        self.fields["note"].error_messages["required"] = SAY_WHY
        self.layout(submit="Enter the refund", keep=f"refund-{account.job.pk}")

    def clean_amount(self) -> int:
        cents = super().clean_amount()
        paid = self.account.paid_cents
        if cents > paid:
            said = AT_MOST.format(refusal=NOT_PAID_SO_MUCH, paid=self.money(paid))
            raise ValidationError(said, code="too_much")
        return cents


class CorrectionForm(forms.Form):
    note = forms.CharField(
        label="What was wrong with it", max_length=300, error_messages={"required": SAY_WHY}
    )

    def __init__(self, *args: Any, job_pk: int, line_pk: int, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.helper = form_helper(
            "note",
            submit="Take it back",
            keep=f"correction-{line_pk}",
            back_url=reverse("job_detail", args=[job_pk]),
        )
