from django.db import models

from decor.models.client import Client
from decor.models.located import Located


class Site(Located):
    """A place where a garland hangs. Lengths are whole metres."""

    client = models.ForeignKey(Client, on_delete=models.PROTECT, related_name="sites")
    name = models.CharField(max_length=120)
    address = models.TextField(max_length=400, blank=True)
    is_outdoor = models.BooleanField(default=False)
    access_note = models.TextField(max_length=1000, blank=True)
    parking_note = models.TextField(max_length=1000, blank=True)
    contact_name = models.CharField(max_length=120, blank=True)
    contact_phone = models.CharField(max_length=40, blank=True)
    distance_m = models.PositiveIntegerField(null=True, blank=True)
    drive_minutes = models.PositiveIntegerField(null=True, blank=True)
    created_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["name", "pk"]
        constraints = [
            *Located.Meta.constraints,
            models.CheckConstraint(condition=~models.Q(name=""), name="site_has_a_name"),
        ]

    def __str__(self) -> str:
        return self.name
