from django.db import models

from quoting.models.quote import Quote


class Piece(models.Model):
    """One garland in a quote: what was typed, and the last spec that could be made of it."""

    quote = models.ForeignKey(Quote, on_delete=models.CASCADE, related_name="pieces")
    position = models.PositiveIntegerField(default=0)
    title = models.CharField(max_length=120)
    typed = models.JSONField(default=dict, help_text="Form fields as typed, valid or not")
    typed_count = models.PositiveIntegerField(
        default=0, help_text="How often something else was typed; tells windows apart in time"
    )
    typed_in = models.CharField(
        max_length=32, blank=True, help_text="The window in which it was typed last"
    )
    spec = models.JSONField(
        null=True, blank=True, help_text="Spec file format, version 1; empty until it is possible"
    )
    spec_is_behind = models.BooleanField(
        default=False, help_text="What was typed last is not possible, so the spec is of before"
    )
    changed_at = models.DateTimeField(auto_now=True)

    class Meta:
        ordering = ["position", "pk"]

    def __str__(self) -> str:
        return self.title
