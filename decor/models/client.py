from typing import Any

from django.db import models

from decor.clients.keys import email_key, name_key, phone_key, phone_to_dial


class Client(models.Model):
    """Someone who asks for garlands, with at least one way to reach them."""

    name = models.CharField(max_length=120)
    email = models.EmailField(blank=True)
    phone = models.CharField(max_length=40, blank=True)
    other_contact = models.CharField(max_length=120, blank=True)
    note = models.TextField(max_length=4000, blank=True)
    # What the same person's details look like however they were typed: see clients/keys.py.
    name_key = models.CharField(max_length=240, editable=False, db_index=True)
    email_key = models.CharField(max_length=254, blank=True, editable=False, db_index=True)
    phone_key = models.CharField(max_length=40, blank=True, editable=False, db_index=True)
    archived_at = models.DateTimeField(null=True, blank=True, editable=False)
    created_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["name", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=~models.Q(email="", phone="", other_contact=""),
                name="client_can_be_reached",
                violation_error_message="Give at least one way to reach them.",
            ),
            models.CheckConstraint(condition=~models.Q(name=""), name="client_has_a_name"),
        ]

    def __str__(self) -> str:
        return self.name

    def save(self, *args: Any, **kwargs: Any) -> None:
        self.name_key = name_key(self.name)[:240]
        self.email_key = email_key(self.email)
        self.phone_key = phone_key(self.phone)
        super().save(*args, **kwargs)

    @property
    def is_archived(self) -> bool:
        return self.archived_at is not None

    @property
    def phone_to_dial(self) -> str:
        return phone_to_dial(self.phone)
