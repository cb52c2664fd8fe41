from django.apps import AppConfig


class QuotingConfig(AppConfig):
    name = "quoting"
    verbose_name = "Pieces and quotes"

    def ready(self) -> None:
        # Not before: these need the models to be loaded.
        from decor.jobs.stages import job_moved
        from quoting.covering.promising import hold_with_the_move
        from quoting.letter_fields import register_quote_fields
        from quoting.quotes.dated import register_dated
        from quoting.today_lines import register_quote_lines

        job_moved.connect(hold_with_the_move)
        register_quote_fields()
        register_quote_lines()
        register_dated()
