from datetime import UTC, date, datetime, timedelta

import pytest

from decor.models import Job, PaymentDue, PaymentLine
from decor.models.append_only import WrittenOnce
from decor.models.job import Stage
from decor.models.payment import DueKind, Means, PaymentKind
from decor.payments import service
from decor.payments.account import account_of, accounts_open
from decor.payments.service import PaymentRefused, PlannedDue
from decor.payments.signals import money_moved
from tests.conftest import TODAY
from tests.factories import JobFactory

pytestmark = pytest.mark.django_db
NOW = datetime(2026, 6, 13, 15, tzinfo=UTC)
BALANCE_ON = TODAY + timedelta(days=20)


@pytest.fixture
def job() -> Job:
    """293.78 down and 293.77 twenty days later."""
    job = JobFactory()
    dues = [
        PlannedDue(DueKind.DEPOSIT, TODAY, 293_78),
        PlannedDue(DueKind.BALANCE, BALANCE_ON, 293_77),
    ]
    service.schedule_set(job=job, dues=dues, source="LL-1001, edition 1", now=NOW)
    return job


def take(job: Job, cents: int, entry_key: str | None = None) -> PaymentLine:
    return service.payment_take(
        job=job,
        amount_cents=cents,
        means=Means.CASH,
        on=TODAY,
        note="",
        by=None,
        now=NOW,
        entry_key=entry_key,
    )


def refund(job: Job, cents: int, entry_key: str | None = None) -> PaymentLine:
    return service.payment_refund(
        job=job,
        amount_cents=cents,
        means=Means.TRANSFER,
        on=TODAY,
        note="Paid twice",
        by=None,
        now=NOW,
        entry_key=entry_key,
    )


def correct(line: PaymentLine) -> PaymentLine:
    return service.payment_correct(line=line, note="It was a typing slip", by=None, now=NOW)


def test_nothing_is_paid_at_first(job: Job) -> None:
    account = account_of(job, today=TODAY)
    assert (account.owed_cents, account.paid_cents, account.balance_cents) == (587_55, 0, 587_55)
    assert not account.deposit_is_in and not account.is_paid


def test_a_part_of_the_deposit_is_not_the_deposit(job: Job) -> None:
    take(job, 293_77)
    account = account_of(job, today=TODAY)
    assert [line.paid_cents for line in account.dues] == [293_77, 0]
    assert not account.deposit_is_in
    take(job, 1)
    assert account_of(job, today=TODAY).deposit_is_in


def test_what_is_paid_counts_towards_the_oldest_line_first(job: Job) -> None:
    take(job, 400_00)
    account = account_of(job, today=TODAY)
    assert [line.paid_cents for line in account.dues] == [293_78, 106_22]
    assert account.balance_cents == 187_55


def test_what_is_paid_beyond_the_total_is_owed_back(job: Job) -> None:
    take(job, 600_00)
    account = account_of(job, today=TODAY)
    assert (account.is_paid, account.balance_cents, account.refund_due_cents) == (True, 0, 12_45)


@pytest.mark.parametrize(
    ("today", "late", "overdue"),
    [
        (TODAY, [0, 0], 0),
        (TODAY + timedelta(days=1), [1, 0], 293_78),
        (BALANCE_ON, [20, 0], 293_78),
        (BALANCE_ON + timedelta(days=3), [23, 3], 587_55),
    ],
)
def test_a_line_is_late_from_the_day_after(
    job: Job, today: date, late: list[int], overdue: int
) -> None:
    account = account_of(job, today=today)
    assert [line.days_late for line in account.dues] == late
    assert account.overdue_cents == overdue


def test_what_is_paid_is_never_late(job: Job) -> None:
    take(job, 293_78)
    account = account_of(job, today=BALANCE_ON)
    assert (account.overdue_cents, account.days_late) == (0, 0)


def test_a_new_schedule_replaces_the_old_which_stays_to_be_read(job: Job) -> None:
    whole = [PlannedDue(DueKind.WHOLE, TODAY, 500_00)]
    service.schedule_set(job=job, dues=whole, source="LL-1001, edition 2", now=NOW)
    assert account_of(job, today=TODAY).owed_cents == 500_00
    assert PaymentDue.objects.filter(job=job, replaced_at=NOW).count() == 2


def test_nothing_agreed_is_not_paid_but_an_agreed_zero_is(job: Job) -> None:
    service.schedule_set(job=job, dues=[], source="", now=NOW)
    assert not account_of(job, today=TODAY).is_paid
    free = [PlannedDue(DueKind.WHOLE, TODAY, 0)]
    service.schedule_set(job=job, dues=free, source="", now=NOW)
    assert account_of(job, today=TODAY).is_paid


@pytest.mark.parametrize("cents", [0, -1])
def test_an_amount_of_zero_or_less_is_refused(job: Job, cents: int) -> None:
    for enter in (take, refund):
        with pytest.raises(PaymentRefused, match="more than zero"):
            enter(job, cents)
    assert not job.payments.exists()


def test_a_refund_is_a_line_below_zero(job: Job) -> None:
    take(job, 300_00)
    assert refund(job, 100_00).amount_cents == -100_00
    assert account_of(job, today=TODAY).paid_cents == 200_00


def test_no_more_is_given_back_than_was_paid(job: Job) -> None:
    take(job, 100_00)
    with pytest.raises(PaymentRefused, match="More than was paid"):
        refund(job, 100_01)
    refund(job, 100_00)
    with pytest.raises(PaymentRefused, match="More than was paid"):
        refund(job, 1)


def test_a_second_press_makes_no_second_line(job: Job) -> None:
    assert take(job, 50_00, "press-1") == take(job, 50_00, "press-1")
    assert refund(job, 50_00, "press-2") == refund(job, 50_00, "press-2")
    assert job.payments.count() == 2


def test_a_press_of_another_job_is_refused(job: Job) -> None:
    take(JobFactory(), 50_00, "press-1")
    with pytest.raises(PaymentRefused, match="another job"):
        take(job, 50_00, "press-1")


def test_a_correction_takes_a_line_back_once(job: Job) -> None:
    line = take(job, 500_00)
    correction = correct(line)
    assert (correction.kind, correction.amount_cents) == (PaymentKind.CORRECTION, -500_00)
    assert account_of(job, today=TODAY).paid_cents == 0
    with pytest.raises(PaymentRefused, match="corrected already"):
        correct(line)
    with pytest.raises(PaymentRefused, match="not corrected"):
        correct(correction)


def test_a_payment_that_was_given_back_is_not_corrected_before_its_refund(job: Job) -> None:
    line = take(job, 100_00)
    given_back = refund(job, 60_00)
    with pytest.raises(PaymentRefused, match="given back since"):
        correct(line)
    correct(given_back)
    correct(line)
    assert account_of(job, today=TODAY).paid_cents == 0


def test_a_line_is_written_once(job: Job) -> None:
    line = take(job, 100_00)
    with pytest.raises(WrittenOnce):
        line.save()
    with pytest.raises(WrittenOnce):
        PaymentLine.objects.filter(pk=line.pk).delete()


def test_other_rooms_hear_of_a_line_inside_its_transaction(job: Job) -> None:
    class Stop(Exception):
        pass

    def stop(line: PaymentLine, **kwargs: object) -> None:
        raise Stop

    money_moved.connect(stop)
    try:
        with pytest.raises(Stop):
            take(job, 100_00)
    finally:
        money_moved.disconnect(stop)
    assert not job.payments.exists()


def test_the_list_has_what_is_open_first_due_first(job: Job) -> None:
    later = JobFactory()
    dues = [PlannedDue(DueKind.WHOLE, TODAY + timedelta(days=2), 10_00)]
    service.schedule_set(job=later, dues=dues, source="", now=NOW)
    settled = JobFactory()
    service.schedule_set(job=settled, dues=dues, source="", now=NOW)
    take(settled, 10_00)
    assert [each.job for each in accounts_open(today=TODAY)] == [job, later]


def test_money_for_a_job_that_was_lost_is_owed_back() -> None:
    job = JobFactory(stage=Stage.QUOTED)
    take(job, 10_00)
    assert account_of(job, today=TODAY).refund_due_cents == 0
    Job.objects.filter(pk=job.pk).update(stage=Stage.LOST)
    (account,) = accounts_open(today=TODAY)
    assert account.refund_due_cents == 10_00


def test_the_list_asks_the_same_few_questions_however_long(
    django_assert_num_queries: object,
) -> None:
    for _ in range(4):
        job = JobFactory()
        dues = [PlannedDue(DueKind.WHOLE, TODAY, 10_00)]
        service.schedule_set(job=job, dues=dues, source="", now=NOW)
        take(job, 5_00)
    with django_assert_num_queries(3):
        assert len([account.job.client.name for account in accounts_open(today=TODAY)]) == 4
