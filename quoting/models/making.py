"""What is told from the bench: counts, popped balloons, hours, packed bags.

Each has the key that the phone gave it, so that what it sends twice is one.
"""

import uuid

from django.conf import settings
from django.db import models

from decor.models import Job, Visit
from decor.models.append_only import AppendOnly
from inventory.models import Bag
from inventory.models.ledger import LossReason
from quoting.estimator.rates import PHASES

MOST_A_TICK = 1000
MOST_MINUTES = 16 * 60
MOST_PEOPLE = 20


class Tick(AppendOnly):
    """So many more, or fewer, of a step of the making sheet are made: see making/keys.py."""

    key = models.UUIDField(unique=True)
    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="ticks")
    step = models.CharField(max_length=80)
    quantity = models.IntegerField()
    made_at = models.DateTimeField(help_text="By the phone's clock, never after it was received")
    received_at = models.DateTimeField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["made_at", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(quantity__gte=-MOST_A_TICK, quantity__lte=MOST_A_TICK)
                & ~models.Q(quantity=0),
                name="tick_counts_something",
            ),
            models.CheckConstraint(
                condition=models.Q(made_at__lte=models.F("received_at")),
                name="tick_is_made_before_it_is_received",
            ),
            models.CheckConstraint(condition=~models.Q(step=""), name="tick_has_a_step"),
        ]

    def __str__(self) -> str:
        return f"{self.step} {self.quantity:+d}"


class Popped(AppendOnly):
    """One balloon that did not last. The ledger has its lines; `bag` is empty where none had it."""

    key = models.UUIDField(unique=True)
    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="popped")
    step = models.CharField(max_length=80)
    reason = models.CharField(max_length=12, choices=LossReason)
    bag = models.ForeignKey(
        Bag, on_delete=models.PROTECT, null=True, blank=True, related_name="popped"
    )
    replaced_from = models.ForeignKey(
        Bag, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    made_at = models.DateTimeField()
    received_at = models.DateTimeField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["made_at", "pk"]
        verbose_name_plural = "popped"
        constraints = [
            models.CheckConstraint(
                condition=models.Q(reason__in=LossReason.values), name="popped_reason_is_known"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_reason_display()}: {self.step}"


class WorkSource(models.TextChoices):
    STAMPED = "stamped", "By the clock"
    TYPED = "typed", "Typed"


class WorkTime(models.Model):
    """Work at one phase of a job. `minutes` are of each of its `people`; empty while the clock
    runs, and where it was left running too long: those are to be typed."""

    key = models.UUIDField(unique=True, default=uuid.uuid4, editable=False)
    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="work_times")
    visit = models.ForeignKey(
        Visit,
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="work_times",
        help_text="Where it was done; empty at the bench, and where nobody said",
    )
    phase = models.CharField(max_length=20, choices=[(phase, phase) for phase in PHASES])
    source = models.CharField(max_length=8, choices=WorkSource, default=WorkSource.STAMPED)
    started_at = models.DateTimeField()
    stopped_at = models.DateTimeField(null=True, blank=True)
    minutes = models.PositiveIntegerField(null=True, blank=True)
    people = models.PositiveSmallIntegerField(default=1)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["started_at", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(phase__in=PHASES), name="work_phase_is_known"
            ),
            models.CheckConstraint(
                condition=models.Q(minutes=None)
                | models.Q(minutes__gte=1, minutes__lte=MOST_MINUTES),
                name="work_fits_a_day",
            ),
            models.CheckConstraint(
                condition=models.Q(people__gte=1, people__lte=MOST_PEOPLE),
                name="work_is_of_someone",
            ),
            models.CheckConstraint(
                condition=models.Q(stopped_at=None)
                | models.Q(stopped_at__gte=models.F("started_at")),
                name="work_stops_after_it_starts",
            ),
            models.CheckConstraint(
                condition=models.Q(stopped_at__isnull=False) | models.Q(minutes=None),
                name="work_under_way_has_no_minutes",
            ),
            models.CheckConstraint(
                condition=models.Q(source=WorkSource.STAMPED)
                | models.Q(source=WorkSource.TYPED, minutes__isnull=False),
                name="typed_work_says_how_long",
            ),
            models.UniqueConstraint(
                fields=["job", "phase"],
                condition=models.Q(stopped_at=None),
                name="one_clock_runs_per_job_and_phase",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.phase}: {self.job}"

    @property
    def person_minutes(self) -> int | None:
        return None if self.minutes is None else self.minutes * self.people


class PackedBag(models.Model):
    """A numbered packing bag with what went into it, as it was when it was packed."""

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="packed_bags")
    number = models.PositiveSmallIntegerField()
    contents = models.JSONField(help_text="In words: what, and where it hangs")
    packed_at = models.DateTimeField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["job_id", "number"]
        constraints = [
            models.UniqueConstraint(fields=["job", "number"], name="one_packed_bag_per_number"),
            models.CheckConstraint(
                condition=models.Q(number__gte=1), name="packed_bags_count_from_one"
            ),
        ]

    def __str__(self) -> str:
        return f"Bag {self.number} of {self.job}"
