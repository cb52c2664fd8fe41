from django.db import models

from decor.models import Job
from quoting.models.rate_card import RateCard


class QuoteStage(models.TextChoices):
    DRAFT = "draft", "Draft"
    SENT = "sent", "Sent"
    CHANGED = "changed", "Changed since it was sent"
    ACCEPTED = "accepted", "Accepted"
    DECLINED = "declined", "Declined"


class DiscountKind(models.TextChoices):
    NONE = "none", "No discount"
    PERCENT = "percent", "Per cent"
    AMOUNT = "amount", "Amount"


class Quote(models.Model):
    """What is offered to a client for a job. The draft changes; what was sent are its editions."""

    number = models.CharField(max_length=20, unique=True)
    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="quotes")
    stage = models.CharField(max_length=10, choices=QuoteStage, default=QuoteStage.DRAFT)
    rate_card = models.ForeignKey(RateCard, on_delete=models.PROTECT, related_name="quotes")
    message = models.TextField(max_length=2000, blank=True)
    terms = models.TextField(max_length=8000, blank=True)
    expires_on = models.DateField()
    is_outside_hours = models.BooleanField(default=False)
    includes_strike = models.BooleanField(default=True)
    discount_kind = models.CharField(max_length=10, choices=DiscountKind, default=DiscountKind.NONE)
    discount_bp = models.PositiveIntegerField(default=0)
    discount_cents = models.BigIntegerField(default=0)
    discount_reason = models.CharField(max_length=120, blank=True)
    created_at = models.DateTimeField(auto_now_add=True)
    changed_at = models.DateTimeField(auto_now=True)

    class Meta:
        ordering = ["-created_at", "-pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(discount_bp__lte=10_000, discount_cents__gte=0),
                name="quote_discount_is_sensible",
            ),
        ]

    def __str__(self) -> str:
        return f"Quote {self.number}"


class ExtraLine(models.Model):
    """Something on a quote that is not a garland: a delivery, a hired backdrop, a sign."""

    quote = models.ForeignKey(Quote, on_delete=models.CASCADE, related_name="extra_lines")
    position = models.PositiveIntegerField(default=0)
    label = models.CharField(max_length=120)
    quantity = models.PositiveIntegerField(default=1)
    unit_cents = models.BigIntegerField()

    class Meta:
        ordering = ["position", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(quantity__gt=0, unit_cents__gte=0),
                name="extra_line_is_not_negative",
            ),
        ]

    def __str__(self) -> str:
        return self.label
