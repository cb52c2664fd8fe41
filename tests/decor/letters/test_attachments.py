"""What goes with a letter: offered by its name, made only when it goes."""

from datetime import UTC, date, datetime, timedelta
from io import BytesIO

import pytest
from django.core import mail
from django.urls import reverse
from django.utils import timezone
from icalendar import Calendar
from pypdf import PdfReader

from decor.letters.attachments import offer_for
from decor.letters.outbox import outbox_send
from decor.models import Job, Letter, PaymentLine, Visit
from decor.models.letter import LetterKind
from decor.models.payment import DueKind, Means
from decor.models.visit import VisitKind
from decor.payments.lines import receipt_number
from decor.payments.service import PlannedDue, payment_correct, payment_take, schedule_set
from tests.decor.letters.conftest import NOW
from tests.factories import JobFactory


@pytest.fixture
def job(business) -> Job:
    job = JobFactory()
    due = PlannedDue(DueKind.WHOLE, date(2026, 7, 1), 500_00)
    schedule_set(job=job, dues=[due], source="LL-1042, edition 1", now=NOW)
    return job


def took(job: Job, cents: int, *, hours: int = 0) -> PaymentLine:
    return payment_take(
        job=job,
        amount_cents=cents,
        means=Means.CASH,
        on=NOW.date(),
        note="",
        by=None,
        now=NOW + timedelta(hours=hours),
    )


def sent(browser, job: Job, kind: LetterKind, *, attach: str = "on") -> Letter:
    words = {"to": job.client.email, "subject": "About it", "body": "Hello.", "attach": attach}
    address = reverse("letter_new", args=[job.pk, kind.value])
    browser.post(
        address, words | {"press": f"0b0f4c3e-7d9c-4d0a-9d0f-{Letter.objects.count():012}"}
    )
    outbox_send(now=timezone.now())
    return Letter.objects.first()


def test_the_receipt_of_the_last_payment_goes_with_the_thanks_for_it(owner_client, job):
    assert offer_for(LetterKind.PAYMENT_IN, job) is None
    took(job, 200_00)
    last = took(job, 100_00, hours=1)
    name = f"receipt-{receipt_number(last)}.pdf"
    page = owner_client.get(reverse("letter_new", args=[job.pk, "payment_in"])).content.decode()
    assert f"Attach {name}" in page
    letter = sent(owner_client, job, LetterKind.PAYMENT_IN)
    assert (letter.attachment_name, letter.attachment_type) == (name, "application/pdf")
    paper = PdfReader(BytesIO(bytes(letter.attachment))).pages[0].extract_text()
    assert receipt_number(last) in paper and "$100.00" in paper
    assert mail.outbox[0].attachments[0][0] == name

    payment_correct(line=last, note="Another job's", by=None, now=NOW + timedelta(hours=2))
    assert offer_for(LetterKind.PAYMENT_IN, job).name != name


def test_a_statement_is_offered_with_a_reminder_and_stays_behind_where_it_is_not_ticked(
    owner_client, job
):
    assert offer_for(LetterKind.PAYMENT_REMINDER, job).name.startswith(f"statement-{job.pk}-")
    assert offer_for(LetterKind.PAYMENT_REMINDER, JobFactory()) is None
    assert not sent(owner_client, job, LetterKind.PAYMENT_REMINDER, attach="").attachment_name


def test_the_day_before_brings_the_install_for_the_clients_calendar(owner_client, job):
    assert offer_for(LetterKind.DAY_BEFORE, job) is None
    visit = Visit.objects.create(
        job=job,
        kind=VisitKind.INSTALL,
        starts_at=datetime(2026, 6, 20, 13, tzinfo=UTC),
        ends_at=datetime(2026, 6, 20, 15, tzinfo=UTC),
        changed_at=NOW,
    )
    sent(owner_client, job, LetterKind.DAY_BEFORE)
    name, content, content_type = mail.outbox[0].attachments[0]
    assert (name, content_type) == ("install.ics", "text/calendar")
    (event,) = Calendar.from_ical(content).walk("VEVENT")
    assert event.decoded("dtstart") == visit.starts_at
