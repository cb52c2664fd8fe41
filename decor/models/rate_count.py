from django.db import models


class RateCount(models.Model):
    """How often someone came within one window of time, so that guessing can be slowed down."""

    key = models.CharField(max_length=80)
    window_starts_at = models.DateTimeField()
    count = models.PositiveIntegerField(default=0)

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["key", "window_starts_at"], name="one_count_per_key_and_window"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.key}: {self.count}"
