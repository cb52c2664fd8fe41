"""The fields of a letter that jobs, visits and payments know of."""

from datetime import timedelta
from zoneinfo import ZoneInfo

from django.utils import timezone
from django.utils.dateformat import time_format

from decor.business.service import the_business
from decor.display import date_text, money_text
from decor.letters.fields import register
from decor.models import Business, Job, PaymentLine, Visit
from decor.models.payment import PaymentKind
from decor.models.visit import VisitKind
from decor.payments.account import account_of


def register_own_fields() -> None:
    register("client", "The client's name as you wrote it", lambda job: job.client.name)
    register(
        "first_name",
        "The first word of the client's name: for people, not for libraries",
        lambda job: job.client.name.split()[0],
    )
    register("job", "What the job is for", lambda job: job.title)
    register(
        "event_day",
        "The day of the event",
        lambda job: date_text(job.event_on) if job.event_on else "",
        otherwise="a day still to be agreed",
    )
    register(
        "place",
        "The name of the place",
        lambda job: job.site.name if job.site else "",
        otherwise="the place we agree on",
    )
    register(
        "arrival_window",
        "Between which times you come to install",
        _arrival_window,
        otherwise="at a time I will still tell you",
    )
    register(
        "amount_due", "What is to be paid next", _amount_due, otherwise="nothing at the moment"
    )
    register("due_by", "By when it is to be paid", _due_by, otherwise="no day in particular")
    register(
        "still_to_pay",
        "What is still to be paid in all, and its next day",
        _still_to_pay,
        otherwise="nothing, it is all paid",
    )
    register(
        "last_payment", "The payment that came last", _last_payment, otherwise="nothing so far"
    )
    register("how_to_pay", "How to pay, as you wrote it under Business", _how_to_pay)
    register("your_name", "Your own name", lambda job: _business().owner_name)
    register("business", "Your business's name", lambda job: _business().name)


def install_of(job: Job) -> Visit | None:
    return job.visits.filter(kind=VisitKind.INSTALL, called_off_at=None).first()


def last_payment(job: Job) -> PaymentLine | None:
    """One that was taken back is none."""
    payments = job.payments.filter(kind=PaymentKind.PAYMENT, corrected_by=None)
    return payments.order_by("at", "pk").last()


def _business() -> Business:
    return the_business() or Business()


def _money(cents: int) -> str:
    return money_text(cents, _business().currency)


def _arrival_window(job: Job) -> str:
    """From the planned start on: before it, whoever comes may still be at another place."""
    install = install_of(job)
    if install is None:
        return ""
    business = _business()
    first = install.starts_at.astimezone(ZoneInfo(business.timezone))
    last = first + timedelta(minutes=business.arrival_window_minutes)
    return f"between {time_format(first, 'P')} and {time_format(last, 'P')}"


def _amount_due(job: Job) -> str:
    due = account_of(job, today=timezone.localdate()).next_due
    return _money(due.open_cents) if due else ""


def _due_by(job: Job) -> str:
    due = account_of(job, today=timezone.localdate()).next_due
    return date_text(due.due.due_on) if due else ""


def _still_to_pay(job: Job) -> str:
    account = account_of(job, today=timezone.localdate())
    if not account.next_due:
        return ""
    return f"{_money(account.balance_cents)}, next by {date_text(account.next_due.due.due_on)}"


def _last_payment(job: Job) -> str:
    last = last_payment(job)
    return _money(last.amount_cents) if last else ""


def _how_to_pay(job: Job) -> str:
    business = _business()
    return "\n".join(filter(None, [business.how_to_pay, business.payment_link]))
