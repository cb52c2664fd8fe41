from django.conf import settings
from django.core.exceptions import ValidationError
from django.db import models

from decor.models.append_only import AppendOnly
from quoting.estimator import Rates, RatesError, rates_from_dict


class RateCard(AppendOnly):
    """One dated version of the business's rates. A change is a new version, never an edit."""

    version = models.PositiveIntegerField(unique=True)
    starts_on = models.DateField()
    note = models.CharField(max_length=200, blank=True)
    rates = models.JSONField(help_text="As quoting.estimator.rates_to_dict writes it")
    terms = models.TextField(max_length=8000, blank=True)
    created_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    created_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["-version"]

    def __str__(self) -> str:
        return f"Rate card {self.version}"

    def clean(self) -> None:
        try:
            self.as_rates()
        except RatesError as error:
            raise ValidationError({"rates": str(error)}) from error

    def as_rates(self) -> Rates:
        return rates_from_dict(self.rates)
