from typing import Any

from django.core.management.base import BaseCommand, CommandError

from inventory.ledger.reading import shelf_problems
from inventory.models import Bag, LedgerLine


class Command(BaseCommand):
    help = "Checks that every bag holds what its ledger lines add up to. Fails where one does not."

    def handle(self, *args: Any, **options: Any) -> None:
        problems = shelf_problems()
        for problem in problems:
            self.stdout.write(problem)
        if problems:
            raise CommandError(f"{len(problems)} problems on the shelf.", returncode=1)
        bags, lines = Bag.objects.count(), LedgerLine.objects.count()
        self.stdout.write(f"The shelf is sound: {bags} bags, {lines} ledger lines.")
