from django.db import models

from decor.models import JobPhoto
from quoting.models.piece import Piece


class Known(models.TextChoices):
    """What is measured in the photo, to know the scale and the slant of everything else."""

    RECTANGLE = "rectangle", "Something flat with four square corners"
    LENGTH = "length", "One length, in a photo taken square on"


class TracedPhoto(models.Model):
    """A garland's path, tapped on a photo of the place.

    `typed` is the draft: marks, sizes and taps as they are now, possible or not. The columns under
    it are the path that the piece took from it, and stay as they are while the draft changes.
    Pixels are those of the stored, upright photo, from its top left corner.
    """

    piece = models.ForeignKey(Piece, on_delete=models.CASCADE, related_name="traced_photos")
    photo = models.ForeignKey(JobPhoto, on_delete=models.CASCADE, related_name="traces")
    typed = models.JSONField(default=dict, help_text="Form fields as typed, valid or not")
    known = models.CharField(max_length=10, choices=Known, blank=True)
    known_m = models.JSONField(default=list, help_text="Width and height, or the one length")
    marks_px = models.JSONField(default=list, help_text="Four corners or two ends, as [x, y]")
    taps_px = models.JSONField(default=list, help_text="The path, in order, as [x, y]")
    used_at = models.DateTimeField(
        null=True, blank=True, help_text="When the piece took this path; empty: only a draft"
    )
    changed_at = models.DateTimeField(auto_now=True)

    class Meta:
        ordering = ["-changed_at", "-pk"]
        constraints = [
            models.UniqueConstraint(fields=["piece", "photo"], name="photo_is_traced_once_a_piece"),
            models.UniqueConstraint(
                fields=["piece"],
                condition=models.Q(used_at__isnull=False),
                name="piece_follows_one_traced_photo",
            ),
            models.CheckConstraint(
                condition=models.Q(known="", used_at__isnull=True)
                | models.Q(known__in=Known.values, used_at__isnull=False),
                name="traced_photo_in_use_has_its_measure",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.piece} on {self.photo}"
