from django.apps import AppConfig

from inventory.ledger.guards import GUARDS


class InventoryConfig(AppConfig):
    name = "inventory"
    verbose_name = "The shelf"

    def ready(self) -> None:
        GUARDS.connect(self)
        # Not before: these need the models to be loaded.
        from decor.jobs.stages import job_moved
        from decor.payments.signals import money_moved, schedule_changed
        from inventory.holds.moves import (
            firm_with_the_money,
            firm_with_the_schedule,
            release_with_the_move,
        )
        from inventory.today_lines import register_shelf_lines

        job_moved.connect(release_with_the_move)
        money_moved.connect(firm_with_the_money)
        schedule_changed.connect(firm_with_the_schedule)
        register_shelf_lines()
