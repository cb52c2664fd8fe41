from django.conf import settings
from django.db import models

from decor.models import Job
from decor.models.append_only import AppendOnly
from inventory.models.bag import Bag


class LineKind(models.TextChoices):
    RECEIVED = "received", "Received"
    OPENED = "opened", "Opened"
    TAKEN = "taken", "Taken"
    RETURNED = "returned", "Returned"
    COUNTED = "counted", "Counted"
    LOST = "lost", "Lost"
    THROWN_AWAY = "thrown_away", "Thrown away"


class LossReason(models.TextChoices):
    POPPED = "popped", "Popped"
    LEAKED = "leaked", "Leaked"
    OFF_SHADE = "off_shade", "Off-shade"


INTO_THE_BAG = (LineKind.RECEIVED, LineKind.RETURNED)
OUT_OF_THE_BAG = (LineKind.TAKEN, LineKind.LOST, LineKind.THROWN_AWAY)


class LedgerLine(AppendOnly):
    """One change to a bag. `quantity` is signed: what is left in a bag is the sum of its lines."""

    bag = models.ForeignKey(Bag, on_delete=models.PROTECT, related_name="lines")
    kind = models.CharField(max_length=12, choices=LineKind)
    quantity = models.IntegerField()
    reason = models.CharField(max_length=12, choices=LossReason, blank=True)
    job = models.ForeignKey(
        Job, on_delete=models.PROTECT, related_name="ledger_lines", null=True, blank=True
    )
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    at = models.DateTimeField()
    why = models.CharField(max_length=300, blank=True)

    class Meta:
        ordering = ["pk"]
        indexes = [models.Index(fields=["kind"], name="ledger_by_kind")]
        constraints = [
            models.UniqueConstraint(
                fields=["bag"], condition=models.Q(kind="received"), name="bag_is_received_once"
            ),
            models.UniqueConstraint(
                fields=["bag"], condition=models.Q(kind="opened"), name="bag_is_opened_once"
            ),
            models.CheckConstraint(
                condition=models.Q(kind__in=INTO_THE_BAG, quantity__gt=0)
                | models.Q(kind__in=OUT_OF_THE_BAG, quantity__lt=0)
                | models.Q(kind="opened", quantity=0)
                | models.Q(kind="counted"),
                name="ledger_quantity_has_the_sign_of_its_kind",
            ),
            models.CheckConstraint(
                condition=models.Q(kind="lost", reason__in=LossReason.values)
                | (~models.Q(kind="lost") & models.Q(reason="")),
                name="ledger_loss_says_how",
            ),
            models.CheckConstraint(
                condition=~models.Q(kind__in=["counted", "thrown_away"])
                | models.Q(quantity=0)
                | ~models.Q(why=""),
                name="ledger_difference_says_why",
            ),
            models.CheckConstraint(
                condition=~models.Q(kind__in=["taken", "returned"])
                | models.Q(job__isnull=False)
                | ~models.Q(why=""),
                name="ledger_taking_names_a_job_or_says_why",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()} {self.quantity:+d}"

    @property
    def quantity_text(self) -> str:
        return f"{self.quantity:+d}".replace("-", "−")
