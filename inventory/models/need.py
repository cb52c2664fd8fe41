from django.conf import settings
from django.db import models

from decor.models import Job
from inventory.models.item import Item
from inventory.models.supplier import Supplier


class Need(models.Model):
    """What a job that is not promised yet would take of an item, put on the buy list beforehand.

    `quantity` is all that the job would take, not only what is missing: what to buy of it depends
    on the rest of the shelf. Once the job holds the item, the hold stands in its place.
    Without a supplier `arrives_on` is the owner's own word; with one it moves on, day by day,
    until an order is made.
    """

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="needs")
    item = models.ForeignKey(Item, on_delete=models.PROTECT, related_name="needs")
    quantity = models.PositiveIntegerField()
    needed_on = models.DateField(help_text="The day of making")
    supplier = models.ForeignKey(
        Supplier, on_delete=models.PROTECT, related_name="+", null=True, blank=True
    )
    arrives_on = models.DateField(help_text="The day it can be here")
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    at = models.DateTimeField()

    class Meta:
        ordering = ["needed_on", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["job", "item"], name="one_need_per_job_and_item"),
            models.CheckConstraint(condition=models.Q(quantity__gt=0), name="need_is_of_something"),
        ]

    def __str__(self) -> str:
        return f"{self.quantity} {self.item} for {self.job}"
