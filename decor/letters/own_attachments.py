"""What jobs, visits and payments can put with a letter."""

from django.utils import timezone

from decor.business.service import the_business
from decor.calendar.ics import event_ics
from decor.letters.attachments import Offer, register
from decor.letters.own_fields import install_of, last_payment
from decor.models import Job
from decor.models.letter import LetterKind
from decor.payments.account import account_of
from decor.payments.documents import receipt_pdf, statement_pdf
from decor.payments.lines import receipt_number


def register_own_attachments() -> None:
    register(LetterKind.PAYMENT_IN, _receipt)
    register(LetterKind.PAYMENT_REMINDER, _statement)
    register(LetterKind.DAY_BEFORE, _install)


def _receipt(job: Job) -> Offer | None:
    line, business = last_payment(job), the_business()
    if line is None or business is None:
        return None
    name = f"receipt-{receipt_number(line)}.pdf"
    return Offer(name, "application/pdf", lambda: receipt_pdf(line, business=business))


def _statement(job: Job) -> Offer | None:
    today, business = timezone.localdate(), the_business()
    if business is None or not account_of(job, today=today).dues:
        return None
    name = f"statement-{job.pk}-{today}.pdf"

    def pdf() -> bytes:
        return statement_pdf(job, business=business, today=today)

    return Offer(name, "application/pdf", pdf)


def _install(job: Job) -> Offer | None:
    """For the client's own calendar."""
    install = install_of(job)
    if install is None:
        return None
    return Offer("install.ics", "text/calendar", lambda: event_ics(install, now=timezone.now()))
