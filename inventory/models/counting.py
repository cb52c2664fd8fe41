from django.conf import settings
from django.db import models

from inventory.models.bag import Bag


class Counting(models.Model):
    """Counting the bags of one place. Until it is finished it can be left and taken up again."""

    place = models.CharField(max_length=60, blank=True)
    started_at = models.DateTimeField()
    finished_at = models.DateTimeField(null=True, blank=True)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["-started_at", "-pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["place"],
                condition=models.Q(finished_at=None),
                name="one_open_counting_per_place",
            ),
        ]

    def __str__(self) -> str:
        return f"Counting {self.place or 'bags without a place'}"


class CountedBag(models.Model):
    """What was counted, and what the ledger said at that moment: the difference is a line later."""

    counting = models.ForeignKey(Counting, on_delete=models.CASCADE, related_name="counted_bags")
    bag = models.ForeignKey(Bag, on_delete=models.PROTECT, related_name="countings")
    counted = models.PositiveIntegerField()
    left_then = models.PositiveIntegerField()
    why = models.CharField(max_length=300, blank=True)
    at = models.DateTimeField()

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["counting", "bag"], name="one_count_per_counting_and_bag"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.bag}: {self.counted}"
