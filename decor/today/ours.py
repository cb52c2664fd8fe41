"""What jobs' money and letters have to be done. Work, stock and quotes are other rooms' lines."""

from collections.abc import Iterator
from datetime import date, timedelta

from django.db.models import Exists, OuterRef
from django.urls import reverse
from django.utils import timezone

from decor.business.service import the_business
from decor.calendar.moments import day_bounds, local_day
from decor.display import money_text
from decor.letters.lists import letters_listed
from decor.models import Letter, Visit
from decor.models.letter import LetterKind, LetterState
from decor.models.visit import VisitKind
from decor.payments.account import Account, DueState, accounts_open
from decor.today.sources import Deed, TodayLine, register

ONE_DAY = timedelta(days=1)
DUE = "{name} of {amount}"
LATE = "{name} of {amount}, {days} late"
GIVE_BACK = "Give back {amount}"
NOT_SENT = "“{subject}” to {to} was not sent"
NOT_SENT_MANY = "{count} letters were not sent"
TELL = "Tell {client} between which times you come on {day}"


def due_lines(first: date, last: date) -> Iterator[TodayLine]:
    currency = the_business().currency
    for account in accounts_open(today=first):
        if account.refund_due_cents:
            yield _refund_line(account, first, currency)
        for due in account.dues:
            if not due.is_paid and due.due.due_on <= last:
                yield _due_line(account, due, currency)


def _due_line(account: Account, due: DueState, currency: str) -> TodayLine:
    """What is late is chased by a letter; what comes is entered when it is there."""
    job, amount = account.job, money_text(due.open_cents, currency)
    if due.is_late:
        days = f"{due.days_late} day{'s' if due.days_late > 1 else ''}"
        text = LATE.format(name=due.name, amount=amount, days=days)
        url = reverse("letter_new", args=[job.pk, LetterKind.PAYMENT_REMINDER.value])
    else:
        text = DUE.format(name=due.name, amount=amount)
        url = reverse("payment_new", args=[job.pk])
    return TodayLine(
        on=due.due.due_on,
        kind=Deed.CHASE if due.is_late else Deed.MONEY,
        text=text,
        url=url,
        action="Remind them" if due.is_late else "Enter it",
        is_late=due.is_late,
        is_about_money=True,
        job=job,
    )


def _refund_line(account: Account, on: date, currency: str) -> TodayLine:
    return TodayLine(
        on=on,
        kind=Deed.MONEY,
        text=GIVE_BACK.format(amount=money_text(account.refund_due_cents, currency)),
        url=reverse("refund_new", args=[account.job.pk]),
        action="Enter it",
        is_about_money=True,
        job=account.job,
    )


def outbox_lines(first: date, last: date) -> Iterator[TodayLine]:
    """However many letters failed, they are one thing to look into."""
    failed = list(letters_listed().filter(state=LetterState.FAILED))
    if not failed:
        return
    letter, count = failed[0], len(failed)
    is_one = count == 1
    yield TodayLine(
        on=first,
        kind=Deed.LETTER,
        text=(
            NOT_SENT.format(subject=letter.subject, to=letter.to)
            if is_one
            else NOT_SENT_MANY.format(count=count)
        ),
        url=reverse("letter_detail", args=[letter.pk]) if is_one else reverse("letter_list"),
        action="Look why",
        job=letter.job if is_one else None,
    )


def day_before_lines(first: date, last: date) -> Iterator[TodayLine]:
    """On the day before each install, unless that letter is written already."""
    begins, ends = day_bounds(first + ONE_DAY, last + ONE_DAY, timezone.get_current_timezone())
    written = Letter.objects.filter(job=OuterRef("job"), kind=LetterKind.DAY_BEFORE)
    visits = Visit.objects.filter(
        ~Exists(written),
        kind=VisitKind.INSTALL,
        starts_at__gte=begins,
        starts_at__lt=ends,
        called_off_at=None,
        done_at=None,
    )
    for visit in visits.select_related("job__client"):
        job, day = visit.job, local_day(visit.starts_at)
        yield TodayLine(
            on=day - ONE_DAY,
            kind=Deed.LETTER,
            text=TELL.format(client=job.client.name, day=f"{day:%A}"),
            url=reverse("letter_new", args=[job.pk, LetterKind.DAY_BEFORE.value]),
            action="Write to them",
            job=job,
        )


def register_our_lines() -> None:
    for source in (due_lines, outbox_lines, day_before_lines):
        register(source)
