from django.conf import settings
from django.db import models

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


class StageMove(models.Model):
    """Who moved a job from one stage to the next, when and why. Never changed afterwards."""

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="stage_moves")
    from_stage = models.CharField(max_length=12, choices=Stage, blank=True)
    to_stage = models.CharField(max_length=12, choices=Stage)
    reason = models.CharField(max_length=300, blank=True)
    moved_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    moved_at = models.DateTimeField()

    class Meta:
        ordering = ["moved_at", "pk"]

    def __str__(self) -> str:
        return f"{self.job}: {self.get_to_stage_display()}"


class JobPhoto(models.Model):
    """A photo of the place or an idea, re-encoded when it came in: see jobs/photos.py."""

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="photos")
    image = models.FileField(upload_to="job-photos/")
    width_px = models.PositiveIntegerField()
    height_px = models.PositiveIntegerField()
    caption = models.CharField(max_length=120, blank=True)
    added_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return self.caption or f"Photo {self.pk}"
