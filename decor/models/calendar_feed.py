from django.conf import settings
from django.db import models


class CalendarFeed(models.Model):
    """A private address at which a phone reads the calendar. Only its token's SHA-256 is kept."""

    user = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="calendar_feeds"
    )
    label = models.CharField(max_length=60, blank=True)
    token_sha256 = models.CharField(max_length=64, unique=True)
    made_at = models.DateTimeField()
    revoked_at = models.DateTimeField(null=True, blank=True)
    last_read_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-made_at", "-pk"]

    def __str__(self) -> str:
        return self.label or f"Feed {self.pk}"
