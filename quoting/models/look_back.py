from django.conf import settings
from django.db import models

from decor.models import Job


class LookBack(models.Model):
    """What a job really took. While it is open it follows the sheets and the ledger; closed, it
    keeps what they said then, and the business learns from it."""

    job = models.OneToOneField(Job, on_delete=models.PROTECT, related_name="look_back")
    client_said = models.TextField(max_length=2000, blank=True)
    note = models.TextField(max_length=2000, blank=True)
    clusters_hung = models.JSONField(
        default=dict, help_text="By piece, where they were not as many as were planned"
    )
    left_out = models.JSONField(
        default=list, help_text="Phases whose hours say nothing of other jobs"
    )
    result = models.JSONField(null=True, blank=True, help_text="As look_back/snapshot.py writes it")
    closed_at = models.DateTimeField(null=True, blank=True)
    closed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["-closed_at", "-pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(closed_at=None, result=None)
                | models.Q(closed_at__isnull=False, result__isnull=False),
                name="a_closed_look_back_has_its_result",
            ),
        ]

    def __str__(self) -> str:
        return f"Look-back on {self.job}"
