import uuid

from django.conf import settings
from django.db import models
from django.db.models.functions import Lower

from inventory.models.order import Order
from inventory.models.supplier import Supplier


class Delivery(models.Model):
    """Bags that came together. `entry_key` is the form's own: sent twice, it is entered once."""

    supplier = models.ForeignKey(Supplier, on_delete=models.PROTECT, related_name="deliveries")
    order = models.ForeignKey(
        Order, on_delete=models.PROTECT, related_name="deliveries", null=True, blank=True
    )
    note_number = models.CharField(max_length=60, blank=True)
    received_on = models.DateField()
    entry_key = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["-received_on", "-pk"]
        verbose_name_plural = "deliveries"
        constraints = [
            models.UniqueConstraint(
                "supplier",
                Lower("note_number"),
                condition=~models.Q(note_number=""),
                name="one_delivery_per_supplier_and_note_number",
                violation_error_message="This delivery note was entered before.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.supplier} {self.note_number or self.received_on}"
