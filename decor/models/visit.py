from django.db import models

from decor.models.crew import CrewMember
from decor.models.job import Job


class VisitKind(models.TextChoices):
    INSTALL = "install", "Install"
    REVISIT = "revisit", "Revisit"
    STRIKE = "strike", "Strike"


class Visit(models.Model):
    """A time at a job's place: to hang it, to mend it, to take it down. The way there is outside
    of it. `sequence` counts its changes for the calendars that follow it."""

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="visits")
    kind = models.CharField(max_length=10, choices=VisitKind)
    starts_at = models.DateTimeField()
    ends_at = models.DateTimeField()
    travel_minutes = models.PositiveSmallIntegerField(
        null=True, blank=True, help_text="One way from the workshop; empty: by the place"
    )
    people = models.PositiveSmallIntegerField(default=1)
    crew = models.ManyToManyField(CrewMember, blank=True, related_name="visits")
    note = models.CharField(max_length=300, blank=True)
    overruled_reason = models.CharField(
        max_length=300, blank=True, help_text="Why it stands although it clashes"
    )
    sequence = models.PositiveIntegerField(default=0)
    changed_at = models.DateTimeField()
    called_off_at = models.DateTimeField(null=True, blank=True)
    done_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["starts_at", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(ends_at__gt=models.F("starts_at")), name="visit_ends_after_start"
            ),
            models.CheckConstraint(condition=models.Q(people__gt=0), name="visit_is_of_someone"),
            models.CheckConstraint(
                condition=models.Q(kind__in=VisitKind.values), name="visit_kind_is_known"
            ),
            models.UniqueConstraint(
                fields=["job", "kind"],
                condition=models.Q(called_off_at=None) & ~models.Q(kind=VisitKind.REVISIT),
                name="one_install_and_one_strike_per_job",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()} of {self.job}"


class MakingSession(models.Model):
    """Hours at the bench for one job on one day."""

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="making_sessions")
    on = models.DateField(db_index=True)
    minutes = models.PositiveSmallIntegerField()
    is_fixed = models.BooleanField(default=False, help_text="Set by hand: a new plan leaves it")
    sequence = models.PositiveIntegerField(default=0)
    changed_at = models.DateTimeField()
    called_off_at = models.DateTimeField(null=True, blank=True)
    done_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["on", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(minutes__gt=0, minutes__lte=1440), name="session_fits_a_day"
            ),
            models.UniqueConstraint(
                fields=["job", "on"],
                condition=models.Q(called_off_at=None),
                name="one_session_per_job_and_day",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.minutes} minutes for {self.job}"
