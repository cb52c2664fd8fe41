from django.db import models

from decor.models import Job
from inventory.models.item import Item


class HoldState(models.TextChoices):
    SOFT = "soft", "Soft"
    FIRM = "firm", "Firm"
    RELEASED = "released", "Released"


OPEN_STATES = (HoldState.SOFT, HoldState.FIRM)


class Hold(models.Model):
    """Balloons of one item promised to a job. What is still to come of it: quantity - taken."""

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="holds")
    item = models.ForeignKey(Item, on_delete=models.PROTECT, related_name="holds")
    quantity = models.PositiveIntegerField()
    taken = models.PositiveIntegerField(default=0)
    state = models.CharField(max_length=10, choices=HoldState, default=HoldState.SOFT)
    needed_on = models.DateField(help_text="The day of making")
    source = models.CharField(max_length=60, blank=True, help_text="Such as the edition")
    placed_at = models.DateTimeField()
    firmed_at = models.DateTimeField(null=True, blank=True)
    released_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["needed_on", "pk"]
        indexes = [
            models.Index(fields=["item", "needed_on"], name="hold_by_item_and_day"),
            # Few are open, and more are released with every year.
            models.Index(fields=["state", "item", "needed_on"], name="hold_by_state"),
        ]
        constraints = [
            models.UniqueConstraint(
                fields=["job", "item"],
                condition=models.Q(state__in=OPEN_STATES),
                name="one_open_hold_per_job_and_item",
            ),
            models.CheckConstraint(
                condition=models.Q(quantity__gt=0, taken__gte=0, taken__lte=models.F("quantity")),
                name="hold_takes_no_more_than_it_holds",
            ),
            models.CheckConstraint(
                condition=models.Q(state__in=HoldState.values), name="hold_state_is_known"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.quantity} {self.item} for {self.job} ({self.state})"
