"""Who owes what, by when: what is to be paid for a job against what was paid. Never stored."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from django.db.models import Sum

from decor.models import Job, PaymentDue, PaymentLine
from decor.models.job import Stage
from decor.models.payment import DueKind

# Money that secures the date; what is owed for calling off secures nothing.
SECURES = frozenset({DueKind.DEPOSIT, DueKind.WHOLE})
ENDED = frozenset({Stage.LET_GO, Stage.LOST, Stage.CALLED_OFF})


@dataclass(frozen=True, kw_only=True)
class DueState:
    """One line of the schedule and how much of it is paid."""

    due: PaymentDue
    paid_cents: int
    today: date

    @property
    def open_cents(self) -> int:
        return self.due.amount_cents - self.paid_cents

    @property
    def is_paid(self) -> bool:
        return not self.open_cents

    @property
    def days_late(self) -> int:
        """A line is late from the day after the one it is due on."""
        return 0 if self.is_paid else max(0, (self.today - self.due.due_on).days)

    @property
    def is_late(self) -> bool:
        return self.days_late > 0

    @property
    def name(self) -> str:
        return self.due.label or self.due.get_kind_display()


@dataclass(frozen=True, kw_only=True)
class Account:
    """Cents. What is paid counts towards the line that is due first, then the next."""

    job: Job
    dues: tuple[DueState, ...]
    paid_cents: int

    @property
    def has_schedule(self) -> bool:
        return bool(self.dues)

    @property
    def owed_cents(self) -> int:
        return sum(line.due.amount_cents for line in self.dues)

    @property
    def balance_cents(self) -> int:
        return max(0, self.owed_cents - self.paid_cents)

    @property
    def overdue_cents(self) -> int:
        return sum(line.open_cents for line in self.dues if line.is_late)

    @property
    def refund_due_cents(self) -> int:
        """Money that came before anything was agreed is kept on account, not owed back."""
        is_settled = self.has_schedule or self.job.stage in ENDED
        return max(0, self.paid_cents - self.owed_cents) if is_settled else 0

    @property
    def next_due(self) -> DueState | None:
        return next((line for line in self.dues if not line.is_paid), None)

    @property
    def days_late(self) -> int:
        return max((line.days_late for line in self.dues), default=0)

    @property
    def deposit_is_in(self) -> bool:
        """Also where none is asked for: then the agreement alone secures the date."""
        return self.has_schedule and all(
            line.is_paid for line in self.dues if line.due.kind in SECURES
        )

    @property
    def is_paid(self) -> bool:
        return self.has_schedule and not self.balance_cents


def account_of(job: Job, *, today: date) -> Account:
    dues = PaymentDue.objects.filter(job=job, replaced_at=None)
    paid = PaymentLine.objects.filter(job=job).aggregate(paid=Sum("amount_cents"))["paid"]
    return _account(job, dues, paid or 0, today)


def deposit_is_in(job: Job) -> bool:
    """Whatever the day."""
    return account_of(job, today=date.min).deposit_is_in


def accounts_open(*, today: date) -> list[Account]:
    """Of every job on which something is still to be paid or given back, first due first."""
    paid = dict(
        PaymentLine.objects.order_by().values_list("job").annotate(paid=Sum("amount_cents"))
    )
    dues = defaultdict(list)
    for due in PaymentDue.objects.filter(replaced_at=None):
        dues[due.job_id].append(due)
    jobs = Job.objects.select_related("client", "site").filter(pk__in={*paid, *dues})
    accounts = (_account(job, dues[job.pk], paid.get(job.pk, 0), today) for job in jobs)
    unsettled = [each for each in accounts if each.balance_cents or each.refund_due_cents]
    return sorted(unsettled, key=_first_due)


def _account(job: Job, dues: Iterable[PaymentDue], paid_cents: int, today: date) -> Account:
    return Account(
        job=job, dues=tuple(_oldest_first(dues, paid_cents, today)), paid_cents=paid_cents
    )


def _oldest_first(dues: Iterable[PaymentDue], paid_cents: int, today: date) -> Iterator[DueState]:
    left = paid_cents
    for due in dues:
        paid = min(left, due.amount_cents)
        left -= paid
        yield DueState(due=due, paid_cents=paid, today=today)


def _first_due(account: Account) -> tuple[date, int]:
    return (account.next_due.due.due_on if account.next_due else date.max, account.job.pk)
