"""The money of a job, for its page and for lists."""

from dataclasses import dataclass

from django import template
from django.utils import timezone

from decor.models import Business, Job
from decor.payments.account import Account, DueState, account_of
from decor.payments.lines import LineShown, lines_of
from decor.payments.ways import PaymentWays, ways_of
from decor.payments.words import Said, account_said, due_said, warning_of

register = template.Library()


@dataclass(frozen=True, kw_only=True)
class MoneyOfJob:
    account: Account
    said: Said
    warning: str
    lines: list[LineShown]


@register.simple_tag
def money_of_job(job: Job, business: Business) -> MoneyOfJob:
    today = timezone.localdate()
    account = account_of(job, today=today)
    return MoneyOfJob(
        account=account,
        said=account_said(account, currency=business.currency, today=today),
        warning=warning_of(account),
        lines=lines_of(job),
    )


@register.simple_tag
def ways_of_job(job: Job, business: Business) -> PaymentWays | None:
    """How its client pays what is due next, for payment_ways.html."""
    return ways_of(account_of(job, today=timezone.localdate()), business=business)


@register.filter
def state_of_due(line: DueState, business: Business) -> Said:
    return due_said(line, currency=business.currency, today=timezone.localdate())


@register.filter
def state_of_account(account: Account, business: Business) -> Said:
    return account_said(account, currency=business.currency, today=timezone.localdate())
