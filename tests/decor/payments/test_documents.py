from datetime import UTC, datetime, timedelta
from io import BytesIO

import pytest
from django.urls import reverse
from pypdf import PdfReader

from decor.models import Business, Job, PaymentLine
from decor.models.payment import DueKind, Means
from decor.payments.documents import receipt_document, statement_document
from decor.payments.service import (
    PlannedDue,
    payment_correct,
    payment_refund,
    payment_take,
    schedule_set,
)
from tests.conftest import TODAY
from tests.factories import JobFactory

pytestmark = pytest.mark.django_db
NOW = datetime(2026, 6, 13, 15, tzinfo=UTC)


@pytest.fixture
def job() -> Job:
    job = JobFactory()
    agreed(job, [293_78, 293_77], now=NOW)
    return job


def agreed(job: Job, amounts: list[int], *, now: datetime) -> None:
    kinds = [DueKind.DEPOSIT, DueKind.BALANCE] if len(amounts) == 2 else [DueKind.WHOLE]
    dues = [
        PlannedDue(kind, TODAY + timedelta(days=20 * n), cents)
        for n, (kind, cents) in enumerate(zip(kinds, amounts, strict=True))
    ]
    schedule_set(job=job, dues=dues, source="LL-1001, edition 1", now=now)


def took(job: Job, cents: int, *, hours: int = 1) -> PaymentLine:
    at = NOW + timedelta(hours=hours)
    return payment_take(
        job=job, amount_cents=cents, means=Means.CASH, on=TODAY, note="", by=None, now=at
    )


def rows(line: PaymentLine, business: Business) -> list[tuple[str, str]]:
    return [(row.name, row.text) for row in receipt_document(line, business=business)["rows"]]


def words_of(pdf: bytes) -> str:
    return " ".join("".join(page.extract_text() for page in PdfReader(BytesIO(pdf)).pages).split())


def test_a_receipt_says_how_things_stood_whenever_it_is_printed(job, business):
    first = took(job, 293_78)
    stood = [
        ("Agreed in all", "$587.55"),
        ("Paid so far, with this", "$293.78"),
        ("Still to pay", "$293.77"),
    ]
    assert rows(first, business) == stood
    second = took(job, 293_77, hours=2)
    agreed(job, [700_00], now=NOW + timedelta(hours=3))
    assert rows(first, business) == stood
    assert rows(second, business)[-1] == ("Still to pay", "$0.00")


def test_a_receipt_for_too_much_says_what_is_to_be_given_back(job, business):
    assert rows(took(job, 600_00), business)[-1] == ("To be given back", "$12.45")


def test_a_receipt_of_before_anything_was_agreed_says_only_what_came(business):
    assert rows(took(JobFactory(), 10_00), business) == [("Paid so far, with this", "$10.00")]


def test_a_line_taken_back_is_no_valid_receipt_any_more(job, business):
    line = took(job, 10_00)
    assert receipt_document(line, business=business)["state"] == ""
    correction = payment_correct(line=line, note="A slip", by=None, now=NOW)
    said = f"Not valid: taken back by R-{correction.pk:04d}."
    assert receipt_document(line, business=business)["state"] == said
    assert receipt_document(correction, business=business)["name"].startswith("Correction R-")


def test_a_refund_is_called_one_and_its_amount_is_plain(job, business):
    took(job, 100_00)
    refund = payment_refund(
        job=job, amount_cents=40_00, means=Means.CASH, on=TODAY, note="x", by=None, now=NOW
    )
    document = receipt_document(refund, business=business)
    assert document["name"] == f"Receipt of a refund R-{refund.pk:04d}"
    assert document["amount_text"] == "$40.00"


def test_a_statement_asks_for_what_is_due_next_with_the_quotes_reference(job, business):
    business.how_to_pay = "Cash or check."
    ways = statement_document(job, business=business, today=TODAY)["ways"]
    assert (ways.amount_cents, ways.reference) == (293_78, "LL-1001")
    late = statement_document(job, business=business, today=TODAY + timedelta(days=30))["ways"]
    assert late.amount_cents == 587_55
    took(job, 587_55)
    assert statement_document(job, business=business, today=TODAY)["ways"] is None


def test_both_papers_are_tagged_pdfs_with_a_title_of_their_own(owner_client, business, job):
    business.currency, business.account_iban = "EUR", "DE89370400440532013000"
    business.save()
    line = took(job, 100_00)
    statement = owner_client.get(reverse("money_statement", args=[job.pk]))
    receipt = owner_client.get(reverse("money_receipt", args=[line.pk]))
    for reply, name in ((statement, "statement-"), (receipt, f"receipt-R-{line.pk:04d}")):
        assert reply["Content-Type"] == "application/pdf"
        assert f'filename="{name}' in reply["Content-Disposition"]
        pdf = PdfReader(BytesIO(reply.content))
        assert pdf.trailer["/Root"]["/MarkInfo"]["/Marked"]
        assert job.title in pdf.metadata.title
    said = words_of(statement.content)
    assert "Still to pay €487.55" in said
    assert "DE89 3704 0044 0532 0130 00" in said and "LL-1001" in said
    assert f"Receipt R-{line.pk:04d}" in words_of(receipt.content)
