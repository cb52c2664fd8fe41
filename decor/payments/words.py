"""What an account says of itself: a state is never without its word, a day never only a number."""

from dataclasses import dataclass
from datetime import date

from django.db import models

from decor.display import date_text, days_away_text, money_text
from decor.models.job import Stage
from decor.payments.account import Account, DueState

NOTHING_AGREED = (
    "Nothing is agreed yet. What is to be paid, and by when, comes with the client’s yes to a "
    "quote."
)
NOTHING_ASKED = "Nothing is owed."
PAID_IN_FULL = "Paid in full."
NEXT = "{name}: {amount}, due {day} ({away})."
LATE = "{amount} is late, since {day} ({days})."
GIVE_BACK = "{amount} is to be given back."
TOO_MUCH = "{amount} more came than is owed: give it back, or keep it against a change."
ON_ACCOUNT = "{amount} came before anything was agreed. It counts once something is."
NOT_PROMISED = (
    "The deposit is in, but this job is not promised yet: something is missing on the shelf or "
    "in the quote. Promise it, or give the money back."
)


class Tone(models.TextChoices):
    """As the look's states: parts.css."""

    PLAIN = "", ""
    ON = "on", ""
    GOOD = "good", ""
    WARN = "warn", ""
    BAD = "bad", ""


@dataclass(frozen=True)
class Said:
    text: str
    tone: Tone


def account_said(account: Account, *, currency: str, today: date) -> Said:
    """The one sentence that matters most now."""

    def amount(cents: int) -> str:
        return money_text(cents, currency)

    if account.overdue_cents:
        return Said(_late(account, amount(account.overdue_cents)), Tone.BAD)
    if account.refund_due_cents:
        words = GIVE_BACK if account.job.stage == Stage.CALLED_OFF else TOO_MUCH
        return Said(words.format(amount=amount(account.refund_due_cents)), Tone.WARN)
    if account.next_due:
        return Said(_next(account.next_due, amount(account.next_due.open_cents), today), Tone.ON)
    if account.has_schedule:
        return Said(PAID_IN_FULL if account.owed_cents else NOTHING_ASKED, Tone.GOOD)
    if account.paid_cents:
        return Said(ON_ACCOUNT.format(amount=amount(account.paid_cents)), Tone.ON)
    return Said(NOTHING_AGREED, Tone.PLAIN)


def due_said(line: DueState, *, currency: str, today: date) -> Said:
    """Of one line, in a word or two."""
    if line.is_paid:
        return Said("paid", Tone.GOOD)
    part = f"{money_text(line.open_cents, currency)} open, " if line.paid_cents else ""
    if line.is_late:
        return Said(f"{part}{days_text(line.days_late)} late", Tone.BAD)
    return Said(f"{part}due {days_away_text(line.due.due_on, today)}", Tone.ON)


def warning_of(account: Account) -> str:
    """What the money says and the stage does not follow."""
    is_unpromised = account.job.stage in (Stage.ASKED, Stage.QUOTED)
    return NOT_PROMISED if is_unpromised and account.deposit_is_in else ""


def days_text(days: int) -> str:
    return "1 day" if days == 1 else f"{days} days"


def _late(account: Account, amount: str) -> str:
    first = next(line for line in account.dues if line.is_late)
    return LATE.format(
        amount=amount, day=date_text(first.due.due_on), days=days_text(account.days_late)
    )


def _next(line: DueState, amount: str, today: date) -> str:
    return NEXT.format(
        name=line.name,
        amount=amount,
        day=date_text(line.due.due_on),
        away=days_away_text(line.due.due_on, today),
    )
