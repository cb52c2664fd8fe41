from django.db import models
from django.db.models.functions import Lower

from inventory.models.item import Item


class Supplier(models.Model):
    """Who sells us bags, how long they take and what they ask for an order."""

    name = models.CharField(max_length=80)
    lead_days = models.PositiveSmallIntegerField(
        default=7, help_text="Days from ordering to having it"
    )
    smallest_order_cents = models.BigIntegerField(default=0)
    delivery_cents = models.BigIntegerField(default=0)
    note = models.TextField(max_length=1000, blank=True)
    archived_at = models.DateTimeField(null=True, blank=True, editable=False)

    class Meta:
        ordering = [Lower("name")]
        constraints = [
            models.UniqueConstraint(
                Lower("name"),
                name="one_supplier_per_name",
                violation_error_message="There is a supplier of that name already.",
            ),
            models.CheckConstraint(condition=~models.Q(name=""), name="supplier_has_a_name"),
            models.CheckConstraint(
                condition=models.Q(smallest_order_cents__gte=0, delivery_cents__gte=0),
                name="supplier_charges_nothing_below_zero",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def is_archived(self) -> bool:
        return self.archived_at is not None


class SupplierBag(models.Model):
    """One size of bag in which a supplier offers an item, and its price."""

    supplier = models.ForeignKey(Supplier, on_delete=models.CASCADE, related_name="bags_offered")
    item = models.ForeignKey(Item, on_delete=models.PROTECT, related_name="bags_offered")
    bag_count = models.PositiveIntegerField()
    bag_cents = models.BigIntegerField()

    class Meta:
        ordering = ["item", "bag_count", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["supplier", "item", "bag_count"],
                name="one_offer_per_supplier_item_and_count",
                violation_error_message="This supplier has a bag of that item and count already.",
            ),
            models.CheckConstraint(
                condition=models.Q(bag_count__gt=0, bag_cents__gte=0),
                name="offered_bag_has_a_count_and_a_price",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.item}, bag of {self.bag_count} from {self.supplier}"
