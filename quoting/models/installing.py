from django.conf import settings
from django.db import models

from decor.models import JobPhoto, Visit
from decor.models.append_only import AppendOnly
from inventory.models import LedgerLine


class VisitForecast(models.Model):
    """What a forecast says of the hours of a visit, as the owner typed it, and when she read it.

    A gust is kept in centimetres a second and a temperature in tenths of a degree Celsius.
    """

    visit = models.OneToOneField(Visit, on_delete=models.CASCADE, related_name="forecast")
    gust_cmps = models.PositiveIntegerField(null=True, blank=True)
    site_decic = models.SmallIntegerField(null=True, blank=True)
    rain = models.BooleanField(default=False)
    source = models.CharField(max_length=80, blank=True)
    read_at = models.DateTimeField()

    def __str__(self) -> str:
        return f"Forecast for {self.visit}"


class CheckMark(models.Model):
    """One thing of the checklist that was looked at before leaving."""

    visit = models.ForeignKey(Visit, on_delete=models.CASCADE, related_name="check_marks")
    key = models.CharField(max_length=30)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    at = models.DateTimeField()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["visit", "key"], name="one_mark_per_visit_and_check"),
        ]

    def __str__(self) -> str:
        return f"{self.key}: {self.visit}"


class WorkReceipt(AppendOnly):
    """The client, or someone for them, says at the place that the work is there as agreed."""

    visit = models.OneToOneField(Visit, on_delete=models.PROTECT, related_name="receipt")
    typed_name = models.CharField(max_length=120)
    note = models.CharField(max_length=600, blank=True)
    photo = models.ForeignKey(
        JobPhoto, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    at = models.DateTimeField()
    timezone = models.CharField(max_length=40)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=~models.Q(typed_name=""), name="work_receipt_has_a_name"
            ),
        ]

    def __str__(self) -> str:
        return f"Receipt of {self.visit}"


class VisitMaterial(AppendOnly):
    """Balloons taken along to a visit of its own, such as to mend a garland after wind."""

    visit = models.ForeignKey(Visit, on_delete=models.PROTECT, related_name="materials")
    line = models.OneToOneField(LedgerLine, on_delete=models.PROTECT, related_name="+")

    def __str__(self) -> str:
        return f"{self.line} for {self.visit}"

    @property
    def taken(self) -> int:
        """How many went out of the bag; below zero where they came back."""
        return -self.line.quantity
