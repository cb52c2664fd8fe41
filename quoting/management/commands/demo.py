import zoneinfo
from pathlib import Path
from typing import Any

from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from decor.demo_environment import DEMO_FOLDER, demo_password
from quoting.demo.make import NotADemo, demo_make, refuse_other_databases, sample_quote_write
from quoting.demo.scenario import BUSINESS

ADDRESS = "127.0.0.1:8000"


class Command(BaseCommand):
    help = "Makes an invented business with about a dozen jobs around today, and serves it."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument(
            "--no-serve", action="store_true", help="stop when the demo is made, serve nothing"
        )

    def handle(self, *args: Any, no_serve: bool, **options: Any) -> None:
        try:
            refuse_other_databases()
        except NotADemo as refused:
            raise CommandError(str(refused)) from refused
        call_command("migrate", verbosity=0)
        with timezone.override(zoneinfo.ZoneInfo(BUSINESS["timezone"])):
            owner = demo_make(password=demo_password(), now=timezone.localtime())
        sample = sample_quote_write(DEMO_FOLDER)
        self.stdout.write(f"Log in as    {owner.username}")
        self.stdout.write(f"Password     {demo_password()}")
        self.stdout.write(f"Sample quote {_from_here(sample)}")
        if not no_serve:
            self.stdout.write(f"Open         http://{ADDRESS}")
            call_command("runserver", ADDRESS, use_reloader=False)


def _from_here(file: Path) -> Path:
    return file.relative_to(Path.cwd()) if file.is_relative_to(Path.cwd()) else file
