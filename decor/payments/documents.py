"""Receipts and statements on paper. A receipt says how things stood when its line was entered, so
that it reads the same whenever it is printed; a statement says how they stand today."""

from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db.models import Q, Sum
from django.utils.timezone import localdate

from decor.display import date_text, money_text
from decor.documents.letterhead import letterhead_now
from decor.documents.pdf import render_pdf
from decor.models import Business, Job, PaymentDue, PaymentLine
from decor.models.payment import PaymentKind
from decor.payments.account import account_of
from decor.payments.lines import lines_of, receipt_number
from decor.payments.ways import ways_of
from decor.payments.words import due_said

RECEIPT = "decor/payments/receipt_pdf.html"
STATEMENT = "decor/payments/statement_pdf.html"
NAMES = {
    PaymentKind.PAYMENT: "Receipt",
    PaymentKind.REFUND: "Receipt of a refund",
    PaymentKind.CORRECTION: "Correction",
}
TAKEN_BACK = "Not valid: taken back by {number}."


@dataclass(frozen=True)
class Row:
    name: str
    text: str


def receipt_pdf(line: PaymentLine, *, business: Business) -> bytes:
    return render_pdf(RECEIPT, receipt_document(line, business=business), business.paper)


def statement_pdf(job: Job, *, business: Business, today: date) -> bytes:
    document = statement_document(job, business=business, today=today)
    return render_pdf(STATEMENT, document, business.paper)


def receipt_document(line: PaymentLine, *, business: Business) -> dict[str, Any]:
    name = f"{NAMES[PaymentKind(line.kind)]} {receipt_number(line)}"
    corrected = PaymentLine.objects.filter(corrects=line).first()
    return {
        **_about(line.job, business, name=name, made_on=localdate(line.at)),
        "line": line,
        "amount_text": money_text(abs(line.amount_cents), business.currency),
        "on_text": date_text(line.on),
        "of": receipt_number(line.corrects) if line.corrects else "",
        "rows": _stood(line, business),
        "state": TAKEN_BACK.format(number=receipt_number(corrected)) if corrected else "",
    }


def statement_document(job: Job, *, business: Business, today: date) -> dict[str, Any]:
    account = account_of(job, today=today)
    name = f"Statement of {date_text(today)}"
    return {
        **_about(job, business, name=name, made_on=today),
        "account": account,
        "dues": [
            (line, due_said(line, currency=business.currency, today=today).text)
            for line in account.dues
        ],
        "lines": lines_of(job),
        "ways": ways_of(account, business=business),
    }


def _about(job: Job, business: Business, *, name: str, made_on: date) -> dict[str, Any]:
    return {
        "document_title": f"{name}: {job.title}",
        "name": name,
        "made_on": made_on,
        "business": business,
        "letterhead": letterhead_now(business),
        "job": job,
        "currency": business.currency,
    }


def _stood(line: PaymentLine, business: Business) -> list[Row]:
    """After this line, of the schedule that held then."""
    held_then = Q(replaced_at=None) | Q(replaced_at__gt=line.at)
    dues = PaymentDue.objects.filter(held_then, job=line.job, set_at__lte=line.at)
    owed = dues.aggregate(cents=Sum("amount_cents"))["cents"]
    until = PaymentLine.objects.filter(job=line.job, pk__lte=line.pk)
    paid = until.aggregate(cents=Sum("amount_cents"))["cents"]

    def money(cents: int) -> str:
        return money_text(cents, business.currency)

    rows = [Row("Paid so far, with this", money(paid))]
    if owed is None:
        return rows
    rows.insert(0, Row("Agreed in all", money(owed)))
    rest = Row("To be given back", money(paid - owed)) if paid > owed else None
    return [*rows, rest or Row("Still to pay", money(owed - paid))]
