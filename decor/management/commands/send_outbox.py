from typing import Any

from django.core.management.base import BaseCommand
from django.utils import timezone

from decor.letters.outbox import mail_is_set_up, outbox_send

NO_SERVER = "No mail server is set up, so letters wait. EMAIL_URL names one: see README."


class Command(BaseCommand):
    help = "Sends the letters that wait in the outbox. Let a timer run it every few minutes."

    def handle(self, *args: Any, **options: Any) -> None:
        if not mail_is_set_up():
            self.stdout.write(NO_SERVER)
            return
        sent = outbox_send(now=timezone.now())
        self.stdout.write(f"Sent: {sent}")
