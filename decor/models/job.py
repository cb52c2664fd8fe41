from django.conf import settings
from django.core.exceptions import ValidationError
from django.db import models

from decor.models.append_only import AppendOnly
from decor.models.client import Client
from decor.models.site import Site


class Stage(models.TextChoices):
    ASKED = "asked", "Asked"
    QUOTED = "quoted", "Quoted"
    PROMISED = "promised", "Promised"
    MADE = "made", "Made"
    UP = "up", "Up"
    DONE = "done", "Done"
    LET_GO = "let_go", "Let go"
    LOST = "lost", "Lost"
    CALLED_OFF = "called_off", "Called off"


SITE_OF_ANOTHER_CLIENT = "This place belongs to another client."


class Job(models.Model):
    """One event or display for one client at one place and time, from question to payment."""

    client = models.ForeignKey(Client, on_delete=models.PROTECT, related_name="jobs")
    site = models.ForeignKey(
        Site, on_delete=models.PROTECT, related_name="jobs", null=True, blank=True
    )
    title = models.CharField(max_length=120)
    stage = models.CharField(max_length=12, choices=Stage, default=Stage.ASKED)
    event_on = models.DateField(null=True, blank=True, db_index=True)
    event_time = models.TimeField(null=True, blank=True)
    note = models.TextField(max_length=4000, blank=True)
    archived_at = models.DateTimeField(null=True, blank=True, editable=False)
    # Which press of “Save the enquiry” made this job, so that a second one makes no second job.
    press = models.CharField(max_length=64, null=True, blank=True, unique=True, editable=False)
    created_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["event_on", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(stage__in=Stage.values), name="job_stage_is_known"
            ),
            models.CheckConstraint(condition=~models.Q(title=""), name="job_has_a_title"),
        ]

    def __str__(self) -> str:
        return self.title

    def clean(self) -> None:
        super().clean()
        if self.site is not None and self.site.client_id != self.client_id:
            raise ValidationError({"site": SITE_OF_ANOTHER_CLIENT})

    @property
    def is_archived(self) -> bool:
        return self.archived_at is not None


class StageMove(AppendOnly):
    """Who moved a job from one stage to the next, when and why. Never changed afterwards."""

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="stage_moves")
    from_stage = models.CharField(max_length=12, choices=Stage, blank=True)
    to_stage = models.CharField(max_length=12, choices=Stage)
    reason = models.CharField(max_length=300, blank=True)
    moved_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    moved_at = models.DateTimeField()

    class Meta:
        ordering = ["moved_at", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(to_stage__in=Stage.values)
                & models.Q(from_stage__in=["", *Stage.values])
                & ~models.Q(from_stage=models.F("to_stage")),
                name="stage_move_goes_somewhere",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.job}: {self.get_to_stage_display()}"


class JobPhoto(models.Model):
    """A photo of the place or an idea, re-encoded when it came in: see jobs/photos.py.

    Until its job exists a photo waits in a tray, so that a mistake in another field of the
    enquiry does not lose it. A tray's name is a random token.
    """

    job = models.ForeignKey(
        Job, on_delete=models.PROTECT, related_name="photos", null=True, blank=True
    )
    tray = models.CharField(max_length=32, blank=True, editable=False, db_index=True)
    image = models.FileField(upload_to="job-photos/")
    width_px = models.PositiveIntegerField()
    height_px = models.PositiveIntegerField()
    added_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(job__isnull=False, tray="")
                | (models.Q(job__isnull=True) & ~models.Q(tray="")),
                name="photo_is_at_a_job_or_in_a_tray",
            ),
            models.CheckConstraint(
                condition=models.Q(width_px__gt=0, height_px__gt=0), name="photo_has_a_size"
            ),
        ]

    def __str__(self) -> str:
        return f"Photo {self.pk}"
