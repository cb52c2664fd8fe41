from django.db import models
from django.db.models.functions import Lower

from decor.models import Job
from inventory.models.hold import OPEN_STATES, HoldState


class KitKind(models.TextChoices):
    STAND = "stand", "Stand"
    FRAME = "frame", "Frame"
    PUMP = "pump", "Pump"
    LADDER = "ladder", "Ladder"
    OTHER = "other", "Other"


class Kit(models.Model):
    """Reusable things of one sort. Back from a job, they rest for the turnaround."""

    name = models.CharField(max_length=60)
    kind = models.CharField(max_length=10, choices=KitKind, default=KitKind.OTHER)
    count = models.PositiveSmallIntegerField(default=1)
    turnaround_days = models.PositiveSmallIntegerField(default=0)
    note = models.CharField(max_length=300, blank=True)
    archived_at = models.DateTimeField(null=True, blank=True, editable=False)

    class Meta:
        ordering = ["kind", Lower("name")]
        verbose_name_plural = "kit"
        constraints = [
            models.UniqueConstraint(
                Lower("name"),
                name="one_kit_per_name",
                violation_error_message="There is kit of that name already.",
            ),
            models.CheckConstraint(condition=~models.Q(name=""), name="kit_has_a_name"),
        ]

    def __str__(self) -> str:
        return self.name


class KitHold(models.Model):
    """Kit promised to a job from set-up to strike, both days included."""

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="kit_holds")
    kit = models.ForeignKey(Kit, on_delete=models.PROTECT, related_name="holds")
    quantity = models.PositiveSmallIntegerField(default=1)
    from_on = models.DateField()
    until_on = models.DateField()
    state = models.CharField(max_length=10, choices=HoldState, default=HoldState.SOFT)
    placed_at = models.DateTimeField()
    released_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["from_on", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["job", "kit"],
                condition=models.Q(state__in=OPEN_STATES),
                name="one_open_kit_hold_per_job_and_kit",
            ),
            models.CheckConstraint(
                condition=models.Q(quantity__gt=0, until_on__gte=models.F("from_on")),
                name="kit_hold_is_of_something_and_ends_after_it_begins",
            ),
            models.CheckConstraint(
                condition=models.Q(state__in=HoldState.values), name="kit_hold_state_is_known"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.quantity} {self.kit} for {self.job} ({self.state})"
