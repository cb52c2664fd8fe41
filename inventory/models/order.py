from django.conf import settings
from django.db import models

from inventory.models.item import Item
from inventory.models.supplier import Supplier


class OrderState(models.TextChoices):
    ORDERED = "ordered", "Ordered"
    RECEIVED = "received", "Received"
    CALLED_OFF = "called_off", "Called off"


class Order(models.Model):
    """Bags asked of a supplier and when they should come. Part of it may have come already.

    `entry_key` is the form's own: sent twice, it is ordered once.
    """

    supplier = models.ForeignKey(Supplier, on_delete=models.PROTECT, related_name="orders")
    ordered_on = models.DateField()
    expected_on = models.DateField()
    state = models.CharField(max_length=12, choices=OrderState, default=OrderState.ORDERED)
    delivery_cents = models.BigIntegerField(default=0)
    note = models.CharField(max_length=300, blank=True)
    entry_key = models.UUIDField(null=True, unique=True, editable=False)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["expected_on", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(expected_on__gte=models.F("ordered_on")),
                name="order_comes_after_it_is_placed",
            ),
            models.CheckConstraint(
                condition=models.Q(state__in=OrderState.values), name="order_state_is_known"
            ),
            models.CheckConstraint(
                condition=models.Q(delivery_cents__gte=0),
                name="order_delivery_costs_no_less_than_0",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.supplier}, ordered {self.ordered_on}"


class OrderLine(models.Model):
    order = models.ForeignKey(Order, on_delete=models.CASCADE, related_name="lines")
    item = models.ForeignKey(Item, on_delete=models.PROTECT, related_name="order_lines")
    bag_count = models.PositiveIntegerField()
    bags = models.PositiveIntegerField()
    bag_cents = models.BigIntegerField()
    received_bags = models.PositiveIntegerField(default=0)

    class Meta:
        ordering = ["item", "bag_count", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["order", "item", "bag_count"], name="one_line_per_order_item_and_count"
            ),
            models.CheckConstraint(
                condition=models.Q(bag_count__gt=0, bags__gt=0, bag_cents__gte=0),
                name="order_line_is_of_something",
            ),
            models.CheckConstraint(
                condition=models.Q(received_bags__gte=0, received_bags__lte=models.F("bags")),
                name="order_line_receives_no_more_than_ordered",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.bags} bags of {self.bag_count} {self.item}"
