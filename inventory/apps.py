from django.apps import AppConfig
from django.db.models.signals import post_migrate, pre_migrate

from inventory.ledger.guards import guards_after_migrate, guards_before_migrate


class InventoryConfig(AppConfig):
    name = "inventory"
    verbose_name = "The shelf"

    def ready(self) -> None:
        pre_migrate.connect(guards_before_migrate, sender=self)
        post_migrate.connect(guards_after_migrate, sender=self)
