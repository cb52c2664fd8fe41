from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods

from decor.display import money_text
from decor.jobs.enquiry_form import press_of
from decor.models import Job, PaymentLine
from decor.payments import service
from decor.payments.account import Account, account_of, accounts_open
from decor.payments.documents import receipt_pdf, statement_pdf
from decor.payments.forms import CorrectionForm, MoneyForm, PaymentForm, RefundForm
from decor.payments.lines import LineShown, receipt_number
from decor.payments.service import PaymentRefused
from decor.payments.words import warning_of

TAKEN = "{amount} is entered. Its receipt is {number}, under Money."
GIVEN_BACK = "The refund of {amount} is entered."
CORRECTED = "{number} is taken back by a line of its own."
ENTERED_ALREADY = "This was entered already: nothing was added twice."
DEPOSIT_IN = "The deposit is in: what is held for {job} is held firmly."
MOVED = "{job} is now “{stage}”."
NOTHING_TO_GIVE_BACK = "Nothing was paid for this job, so there is nothing to give back."


@require_GET
def money_list(request: HttpRequest) -> HttpResponse:
    """Who owes what, by when, how late; and who is to get something back."""
    accounts = accounts_open(today=timezone.localdate())
    owing = [account for account in accounts if account.balance_cents]
    context = {
        "late": [account for account in owing if account.overdue_cents],
        "to_come": [account for account in owing if not account.overdue_cents],
        "to_give_back": [account for account in accounts if account.refund_due_cents],
        "late_cents": sum(account.overdue_cents for account in owing),
        "owed_cents": sum(account.balance_cents for account in owing),
        "has_any": bool(accounts) or PaymentLine.objects.exists(),
    }
    return render(request, "decor/payments/money_list.html", context)


@require_http_methods(["GET", "POST"])
def payment_new(request: HttpRequest, job_pk: int) -> HttpResponse:
    job = _job(job_pk)
    if _was_pressed(request):
        return _entered_already(request, job)
    form = _form(PaymentForm, request, job)
    if not form.is_valid():
        return _page(request, form, "decor/payments/payment_new.html")
    stage = job.stage
    try:
        line = service.payment_take(job=job, **_entry(form, request))
    except PaymentRefused as refused:
        form.add_error(None, str(refused))
        return _page(request, form, "decor/payments/payment_new.html")
    said = TAKEN.format(amount=_money(request, line.amount_cents), number=receipt_number(line))
    messages.success(request, said, extra_tags=f"keep:payment-{job_pk}")
    _say_what_it_moved(request, before=form.account, stage=stage)
    return redirect("job_detail", pk=job_pk)


@require_http_methods(["GET", "POST"])
def refund_new(request: HttpRequest, job_pk: int) -> HttpResponse:
    job = _job(job_pk)
    if _was_pressed(request):
        return _entered_already(request, job)
    form = _form(RefundForm, request, job)
    if not form.account.paid_cents:
        messages.warning(request, NOTHING_TO_GIVE_BACK)
        return redirect("job_detail", pk=job_pk)
    if not form.is_valid():
        return _page(request, form, "decor/payments/refund_new.html")
    try:
        line = service.payment_refund(job=job, **_entry(form, request))
    except PaymentRefused as refused:
        form.add_error(None, str(refused))
        return _page(request, form, "decor/payments/refund_new.html")
    said = GIVEN_BACK.format(amount=_money(request, -line.amount_cents))
    messages.success(request, said, extra_tags=f"keep:refund-{job_pk}")
    return redirect("job_detail", pk=job_pk)


@require_http_methods(["GET", "POST"])
def payment_correct(request: HttpRequest, pk: int) -> HttpResponse:
    """Asks first, and why."""
    line = _line(pk)
    form = CorrectionForm(request.POST or None, job_pk=line.job_id, line_pk=pk)
    if form.is_valid():
        note = form.cleaned_data["note"]
        try:
            service.payment_correct(line=line, note=note, by=request.user, now=timezone.now())
        except PaymentRefused as refused:
            messages.warning(request, str(refused))
        else:
            said = CORRECTED.format(number=receipt_number(line))
            messages.success(request, said, extra_tags=f"keep:correction-{pk}")
        return redirect("job_detail", pk=line.job_id)
    is_corrected = PaymentLine.objects.filter(corrects=line).exists()
    context = {
        "form": form,
        "job": line.job,
        "shown": LineShown(line=line, is_taken_back=is_corrected),
    }
    status = 422 if form.is_bound else 200
    return render(request, "decor/payments/payment_correct.html", context, status=status)


@require_GET
def receipt(request: HttpRequest, pk: int) -> HttpResponse:
    line = _line(pk)
    pdf = receipt_pdf(line, business=request.business)
    return _pdf_response(pdf, f"receipt-{receipt_number(line)}.pdf")


@require_GET
def statement(request: HttpRequest, job_pk: int) -> HttpResponse:
    job, today = _job(job_pk), timezone.localdate()
    pdf = statement_pdf(job, business=request.business, today=today)
    return _pdf_response(pdf, f"statement-{job_pk}-{today}.pdf")


def _job(pk: int) -> Job:
    return get_object_or_404(Job.objects.select_related("client", "site"), pk=pk)


def _line(pk: int) -> PaymentLine:
    lines = PaymentLine.objects.select_related("job__client", "job__site", "corrects", "by")
    return get_object_or_404(lines, pk=pk)


def _form(kind: type[MoneyForm], request: HttpRequest, job: Job) -> MoneyForm:
    today = timezone.localdate()
    return kind(
        request.POST or None,
        account=account_of(job, today=today),
        currency=request.business.currency,
        today=today,
    )


def _entry(form: MoneyForm, request: HttpRequest) -> dict[str, Any]:
    typed = form.cleaned_data
    return {
        "amount_cents": typed["amount"],
        "means": typed["means"],
        "on": typed["on"],
        "note": typed["note"],
        "by": request.user,
        "now": timezone.now(),
        "entry_key": press_of(request.POST),
    }


def _page(request: HttpRequest, form: MoneyForm, template: str) -> HttpResponse:
    context = {"form": form, "job": form.account.job, "account": form.account}
    return render(request, template, context, status=422 if form.is_bound else 200)


def _was_pressed(request: HttpRequest) -> bool:
    """Before the form is read: what was entered once may not be allowed once more."""
    if request.method != "POST":
        return False
    return PaymentLine.objects.filter(entry_key=press_of(request.POST)).exists()


def _entered_already(request: HttpRequest, job: Job) -> HttpResponse:
    messages.info(request, ENTERED_ALREADY)
    return redirect("job_detail", pk=job.pk)


def _say_what_it_moved(request: HttpRequest, *, before: Account, stage: str) -> None:
    after = account_of(_job(before.job.pk), today=timezone.localdate())
    job, warning = after.job, warning_of(after)
    if after.deposit_is_in and not before.deposit_is_in and not warning:
        messages.success(request, DEPOSIT_IN.format(job=job))
    if job.stage != stage:
        messages.success(request, MOVED.format(job=job, stage=job.get_stage_display()))
    if warning:
        messages.warning(request, warning)


def _money(request: HttpRequest, cents: int) -> str:
    return money_text(cents, request.business.currency)


def _pdf_response(pdf: bytes, name: str) -> HttpResponse:
    return HttpResponse(
        pdf,
        content_type="application/pdf",
        headers={"Content-Disposition": f'inline; filename="{name}"'},
    )
