from django.conf import settings
from django.db import models

from decor.models.append_only import AppendOnly
from quoting.models.quote import Quote
from quoting.models.rate_card import RateCard


class Edition(AppendOnly):
    """One frozen version of a quote as sent: inputs, rates, result and the very PDF."""

    quote = models.ForeignKey(Quote, on_delete=models.PROTECT, related_name="editions")
    number = models.PositiveIntegerField()
    sent_at = models.DateTimeField()
    sent_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    rate_card = models.ForeignKey(RateCard, on_delete=models.PROTECT, related_name="editions")
    inputs = models.JSONField(help_text="Business, client, job, pieces, extras, rates, catalogue")
    result = models.JSONField(help_text="Estimates and price, as the estimator wrote them")
    currency = models.CharField(max_length=3)
    net_cents = models.BigIntegerField()
    tax_cents = models.BigIntegerField()
    total_cents = models.BigIntegerField()
    deposit_cents = models.BigIntegerField()
    expires_on = models.DateField()
    pdf = models.BinaryField()
    pdf_sha256 = models.CharField(max_length=64)
    changes = models.JSONField(default=list, help_text="In words, against the edition before")

    class Meta:
        ordering = ["number"]
        constraints = [
            models.UniqueConstraint(fields=["quote", "number"], name="edition_number_is_unique"),
            models.CheckConstraint(
                condition=models.Q(total_cents=models.F("net_cents") + models.F("tax_cents")),
                name="edition_total_is_net_and_tax",
            ),
            models.CheckConstraint(
                condition=models.Q(
                    deposit_cents__gte=0, deposit_cents__lte=models.F("total_cents")
                ),
                name="edition_deposit_is_within_total",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.quote}, edition {self.number}"
