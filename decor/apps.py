from django.apps import AppConfig

from decor.payments.guards import GUARDS


class DecorConfig(AppConfig):
    name = "decor"
    verbose_name = "Clients and jobs"

    def ready(self) -> None:
        GUARDS.connect(self)
        # Not before: these need the models to be loaded.
        from decor.calendar.registering import register_our_days
        from decor.jobs.stages import job_moved
        from decor.letters.own_attachments import register_own_attachments
        from decor.letters.own_fields import register_own_fields
        from decor.payments.moves import schedule_with_the_move
        from decor.today.ours import register_our_lines

        job_moved.connect(schedule_with_the_move)
        register_our_days()
        register_own_fields()
        register_own_attachments()
        register_our_lines()
