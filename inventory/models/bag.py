import secrets

from django.db import models

from inventory.models.delivery import Delivery
from inventory.models.item import Item

# No letter or figure that reads as another one: a tag is also typed by hand from a torn label.
TAG_LETTERS = "23456789abcdefghjkmnpqrstuvwxyz"
TAG_LENGTH = 8


def new_tag() -> str:
    return "".join(secrets.choice(TAG_LETTERS) for _ in range(TAG_LENGTH))


class Bag(models.Model):
    """A bag as bought. A part-used bag is a bag with fewer in it.

    `left` and `is_open` are caches of the ledger, kept by the database itself whenever a line is
    written (inventory/ledger/guards.py). Nothing else may set them: a new bag begins at 0, and
    its first line, `received`, fills it.
    """

    item = models.ForeignKey(Item, on_delete=models.PROTECT, related_name="bags")
    delivery = models.ForeignKey(
        Delivery, on_delete=models.PROTECT, related_name="bags", null=True, blank=True
    )
    lot = models.CharField(max_length=40, blank=True)
    received_on = models.DateField()
    cost_cents = models.BigIntegerField()
    printed_count = models.PositiveIntegerField()
    left = models.PositiveIntegerField(default=0, editable=False)
    is_open = models.BooleanField(default=False, editable=False)
    place = models.CharField(max_length=60, blank=True, help_text="Cupboard or box")
    note = models.CharField(max_length=300, blank=True)
    tag = models.CharField(max_length=12, unique=True, default=new_tag, editable=False)

    class Meta:
        ordering = ["item_id", "received_on", "pk"]
        indexes = [models.Index(fields=["place"], name="bag_by_place")]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(left__gte=0, left__lte=models.F("printed_count")),
                name="bag_holds_no_less_than_none_and_no_more_than_printed",
            ),
            models.CheckConstraint(
                condition=models.Q(printed_count__gt=0, cost_cents__gte=0),
                name="bag_has_a_count_and_a_cost",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.item}, bag of {self.printed_count}" + (
            f", lot {self.lot}" if self.lot else ""
        )
