from django.apps import AppConfig

from decor.payments.guards import GUARDS


class DecorConfig(AppConfig):
    name = "decor"
    verbose_name = "Clients and jobs"

    def ready(self) -> None:
        GUARDS.connect(self)
        # Not before: these need the models to be loaded.
        from decor.calendar.registering import register_our_days
        from decor.letters.own_fields import register_own_fields
        from decor.today.ours import register_our_lines

        register_our_days()
        register_own_fields()
        register_our_lines()
