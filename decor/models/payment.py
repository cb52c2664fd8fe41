from django.conf import settings
from django.db import models

from decor.models.append_only import AppendOnly
from decor.models.job import Job


class DueKind(models.TextChoices):
    DEPOSIT = "deposit", "Deposit"
    BALANCE = "balance", "Balance"
    WHOLE = "whole", "To pay in full"
    CALLING_OFF = "calling_off", "For calling off"
    OTHER = "other", "Other"


class PaymentDue(models.Model):
    """One line of what a job's client is to pay and when. A new schedule replaces the lines of the
    one before; those stay, to be read."""

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="dues")
    kind = models.CharField(max_length=12, choices=DueKind)
    label = models.CharField(max_length=80, blank=True)
    due_on = models.DateField()
    amount_cents = models.BigIntegerField()
    source = models.CharField(
        max_length=80, blank=True, help_text="Such as the quote's number and edition"
    )
    set_at = models.DateTimeField()
    replaced_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["due_on", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(amount_cents__gte=0), name="payment_due_is_not_negative"
            ),
            models.CheckConstraint(
                condition=models.Q(kind__in=DueKind.values), name="payment_due_kind_is_known"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()} of {self.job}"


class PaymentKind(models.TextChoices):
    PAYMENT = "payment", "Payment"
    REFUND = "refund", "Refund"
    CORRECTION = "correction", "Correction"


class Means(models.TextChoices):
    CASH = "cash", "Cash"
    TRANSFER = "transfer", "Bank transfer"
    CARD = "card", "Card"
    CHEQUE = "cheque", "Check"
    OTHER = "other", "Other"


class PaymentLine(AppendOnly):
    """Money that came from a client (above zero) or went back (below). A mistake is taken back by
    a correction, a line of its own that names the line it corrects."""

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="payments")
    kind = models.CharField(max_length=12, choices=PaymentKind)
    amount_cents = models.BigIntegerField()
    means = models.CharField(max_length=10, choices=Means)
    on = models.DateField(help_text="The day the money came or went")
    note = models.CharField(max_length=300, blank=True)
    corrects = models.OneToOneField(
        "self", on_delete=models.PROTECT, null=True, blank=True, related_name="corrected_by"
    )
    # Which press of the button made it, so that a second one makes no second line.
    entry_key = models.CharField(max_length=64, null=True, blank=True, unique=True)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    at = models.DateTimeField()

    class Meta:
        ordering = ["at", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(kind=PaymentKind.PAYMENT, amount_cents__gt=0, corrects=None)
                | models.Q(kind=PaymentKind.REFUND, amount_cents__lt=0, corrects=None)
                | (
                    models.Q(kind=PaymentKind.CORRECTION, corrects__isnull=False)
                    & ~models.Q(amount_cents=0)
                ),
                name="payment_line_has_the_sign_of_its_kind",
            ),
            models.CheckConstraint(
                condition=models.Q(means__in=Means.values), name="payment_means_are_known"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()} for {self.job}"
