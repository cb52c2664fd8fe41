"""Called off ten days before the day, 75 % is kept; of 587.55 that is 440.6625, so 440.66 by half
up (recomputed with Python's decimal)."""

from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from decor.jobs.stages import job_move
from decor.models import Job
from decor.models.job import Stage
from decor.models.payment import DueKind, Means
from decor.payments.account import Account, account_of
from decor.payments.service import payment_refund, payment_take
from inventory.holds.service import hold_soft, holds_open
from quoting.calling_off import answer as said
from quoting.calling_off.answer import CallingOff, calling_off
from quoting.calling_off.service import (
    MORE_THAN_AGREED,
    ONLY_PROMISED,
    OTHERWISE_THAN_SHOWN,
    CallingOffRefused,
    Who,
    job_call_off,
)
from quoting.estimator.rates import EXAMPLE_CALLING_OFF
from quoting.models import ClientAnswer, Edition
from tests.factories import BagFactory, JobFactory
from tests.quoting.calling_off.conftest import NOW, TODAY, TOTAL

pytestmark = pytest.mark.django_db
KEPT = 440_66


def take(job: Job, cents: int) -> None:
    payment_take(job=job, amount_cents=cents, means=Means.CASH, on=TODAY, note="", by=None, now=NOW)


def call_off(job: Job, *, shown=(KEPT, 293_78), who=Who.CLIENT, keep_cents=None) -> CallingOff:
    return job_call_off(
        job=job, who=who, why="Rain", shown=shown, keep_cents=keep_cents, by=None, now=NOW
    )


def account(job: Job) -> Account:
    return account_of(Job.objects.get(pk=job.pk), today=TODAY)


@pytest.mark.parametrize(
    ("days_before", "kept"),
    [(30, 146_89), (29, 293_78), (14, 293_78), (10, KEPT), (7, KEPT), (6, TOTAL), (0, TOTAL)],
)
def test_what_is_kept_follows_the_days_of_notice(job, days_before, kept):
    answer = calling_off(job, on=job.event_on - timedelta(days=days_before))
    assert (answer.notice_days, answer.kept_cents) == (days_before, kept)


def test_the_arithmetic_is_shown_step_by_step(job):
    take(job, 293_78)
    steps = calling_off(job, on=TODAY).steps("USD")
    assert [(step.words, step.amount) for step in steps] == [
        ("Agreed in all, with tax", "$587.55"),
        ("From today to Tuesday 23 June 2026", "10 days"),
        ("With 7 to 13 days’ notice: 75 % of $587.55 is kept", "$440.66"),
        ("Paid so far", "$293.78"),
        ("Still owed", "$146.88"),
    ]


def test_what_was_paid_beyond_what_is_kept_goes_back(job):
    take(job, TOTAL)
    assert calling_off(job, on=TODAY).steps("USD")[-1] == said.Step("To give back", "$146.89")


@given(total=st.integers(0, 10**8), paid=st.integers(0, 2 * 10**8), notice=st.integers(-5, 60))
def test_no_cent_is_lost_and_less_notice_never_keeps_less(total, paid, notice):
    def kept(days: int) -> int:
        return min(
            total, said.share_bp(total, said.band_of(EXAMPLE_CALLING_OFF, notice_days=days).keep_bp)
        )

    assert 0 <= kept(notice + 1) <= kept(notice) <= total
    back, owed = max(0, paid - kept(notice)), max(0, kept(notice) - paid)
    assert paid - back + owed == kept(notice)


def test_called_off_by_the_client_the_account_and_the_holds_follow(job, owner):
    item = BagFactory(item__nominal_in=5).item
    hold_soft(job=job, demand={item.pk: 10}, needed_on=TODAY, today=TODAY, now=NOW)
    take(job, 293_78)
    call_off(job)
    now = account(job)
    assert (now.job.stage, now.owed_cents, now.balance_cents) == (Stage.CALLED_OFF, KEPT, 146_88)
    assert [(line.due.kind, line.name) for line in now.dues] == [
        (DueKind.CALLING_OFF, "Called off by the client")
    ]
    assert not holds_open(job).exists()
    assert job.stage_moves.last().reason == "The client called it off: Rain"


def test_called_off_by_us_everything_goes_back(job):
    take(job, TOTAL)
    call_off(job, who=Who.US, shown=(KEPT, TOTAL))
    assert (account(job).owed_cents, account(job).refund_due_cents) == (0, TOTAL)
    payment_refund(
        job=job, amount_cents=TOTAL, means=Means.CASH, on=TODAY, note="Storm", by=None, now=NOW
    )
    assert account(job).refund_due_cents == 0 and account(job).is_paid


def test_the_owner_may_keep_less_but_never_more_than_was_agreed(job):
    with pytest.raises(CallingOffRefused, match=MORE_THAN_AGREED):
        call_off(job, shown=(KEPT, 0), keep_cents=TOTAL + 1)
    call_off(job, shown=(KEPT, 0), keep_cents=100_00)
    assert account(job).owed_cents == 100_00


def test_other_sums_than_were_shown_change_nothing(job):
    with pytest.raises(CallingOffRefused, match=OTHERWISE_THAN_SHOWN):
        call_off(job)
    assert account(job).job.stage == Stage.PROMISED
    assert account(job).owed_cents == TOTAL


@pytest.mark.parametrize("stage", [Stage.QUOTED, Stage.UP, Stage.DONE, Stage.CALLED_OFF])
def test_only_a_promised_job_is_called_off(job, stage):
    Job.objects.filter(pk=job.pk).update(stage=stage)
    with pytest.raises(CallingOffRefused, match=ONLY_PROMISED):
        call_off(job, shown=(KEPT, 0))


def test_taken_up_again_what_was_agreed_is_owed_again(job):
    take(job, 293_78)
    before = [(line.due.kind, line.due.due_on, line.due.amount_cents) for line in account(job).dues]
    call_off(job)
    job.refresh_from_db()
    later = NOW + timedelta(hours=1)
    job_move(job=job, to=Stage.PROMISED, by=None, reason="A new day", now=later)
    after = [(line.due.kind, line.due.due_on, line.due.amount_cents) for line in account(job).dues]
    assert after == before
    assert account(job).deposit_is_in


def test_a_job_that_is_lost_owes_nothing_any_more(job):
    Job.objects.filter(pk=job.pk).update(stage=Stage.QUOTED)
    job.refresh_from_db()
    take(job, 100_00)
    job_move(job=job, to=Stage.LOST, by=None, reason="No answer", now=NOW)
    assert (account(job).balance_cents, account(job).refund_due_cents) == (0, 100_00)


# ---- Where nothing is said of it


def test_an_old_edition_without_bands_keeps_nothing_by_itself(job):
    edition = Edition.objects.get()
    rates = {
        name: value for name, value in edition.inputs["rates"].items() if name != "calling_off"
    }
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(said, "edition_accepted", lambda job: edition)
        edition.inputs = {"rates": rates}
        answer = calling_off(job, on=TODAY)
    assert (answer.kept_cents, answer.steps("USD")[1].words) == (0, said.NOTHING_SAID)


def test_without_an_accepted_quote_nothing_is_kept_by_itself(business):
    answer = calling_off(JobFactory(stage=Stage.PROMISED), on=TODAY)
    assert (answer.kept_cents, answer.steps("USD")[1].words) == (0, said.NO_QUOTE)


def test_without_a_day_there_is_no_notice_to_count(job):
    job.event_on = None
    answer = calling_off(job, on=TODAY)
    assert (answer.kept_cents, answer.steps("USD")[1].words) == (0, said.NO_DAY)


def test_what_was_declined_is_not_what_was_agreed(job):
    assert ClientAnswer.objects.get().edition == said.edition_accepted(job)
    assert said.edition_accepted(JobFactory()) is None
