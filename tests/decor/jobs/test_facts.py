from datetime import UTC, datetime, timedelta

import pytest

from decor.jobs.facts import DEPOSIT_IN, SETTLED, fact_moves
from decor.jobs.stages import MoveRefused, job_move, job_moved
from decor.models import Job, Visit
from decor.models.job import Stage
from decor.models.payment import DueKind, Means
from decor.payments.service import PlannedDue, payment_correct, payment_take, schedule_set
from inventory.holds.service import hold_soft
from inventory.models import Hold
from tests.conftest import TODAY
from tests.factories import BagFactory, JobFactory, UserFactory

pytestmark = pytest.mark.django_db
NOW = datetime(2026, 6, 13, 15, tzinfo=UTC)


@pytest.fixture
def job() -> Job:
    job = JobFactory(stage=Stage.QUOTED)
    dues = [
        PlannedDue(DueKind.DEPOSIT, TODAY, 100_00),
        PlannedDue(DueKind.BALANCE, TODAY + timedelta(days=2), 100_00),
    ]
    schedule_set(job=job, dues=dues, source="", now=NOW)
    return job


def take(job: Job, cents: int):
    return payment_take(
        job=job,
        amount_cents=cents,
        means=Means.CASH,
        on=TODAY,
        note="",
        by=UserFactory(),
        now=NOW,
    )


def stage_of(job: Job) -> str:
    return Job.objects.get(pk=job.pk).stage


def strike_of(job: Job, **more) -> Visit:
    until = NOW + timedelta(hours=1)
    return Visit.objects.create(
        job=job, kind="strike", starts_at=NOW, ends_at=until, changed_at=NOW, **more
    )


def test_the_deposit_promises_a_quoted_job_and_says_who_entered_it(job):
    take(job, 99_99)
    assert stage_of(job) == Stage.QUOTED
    take(job, 1)
    assert stage_of(job) == Stage.PROMISED
    move = job.stage_moves.get()
    assert (move.reason, move.moved_by) == (DEPOSIT_IN, UserFactory())


def test_the_deposit_makes_the_hold_firm_also_one_placed_later(job):
    item = BagFactory().item
    now = {"today": TODAY, "now": NOW, "needed_on": TODAY}
    hold_soft(job=job, demand={item.pk: 10}, **now)
    take(job, 99_99)
    assert Hold.objects.get().state == "soft"
    take(job, 1)
    assert (Hold.objects.get().state, Hold.objects.get().firmed_at) == ("firm", NOW)
    other = BagFactory(item__nominal_in=5).item
    hold_soft(job=job, demand={other.pk: 10}, **now)
    assert Hold.objects.get(item=other).state == "firm"


def test_a_deposit_entered_by_mistake_makes_the_hold_soft_again(job):
    item = BagFactory().item
    hold_soft(job=job, demand={item.pk: 10}, today=TODAY, now=NOW, needed_on=TODAY)
    payment_correct(line=take(job, 100_00), note="Another job's", by=None, now=NOW)
    assert (Hold.objects.get().state, Hold.objects.get().firmed_at) == ("soft", None)


def test_money_that_came_before_anything_was_agreed_makes_it_firm_too():
    job, item = JobFactory(stage=Stage.PROMISED), BagFactory().item
    hold_soft(job=job, demand={item.pk: 10}, today=TODAY, now=NOW, needed_on=TODAY)
    take(job, 100_00)
    assert Hold.objects.get().state == "soft"
    dues = [PlannedDue(DueKind.DEPOSIT, TODAY, 100_00)]
    schedule_set(job=job, dues=dues, source="", now=NOW)
    assert Hold.objects.get().state == "firm"


def test_the_money_is_in_although_a_room_refuses_the_promise(job):
    def refuse(**kwargs):
        raise MoveRefused("Not enough is free.")

    job_moved.connect(refuse)
    try:
        line = take(job, 100_00)
    finally:
        job_moved.disconnect(refuse)
    assert job.payments.get() == line
    assert stage_of(job) == Stage.QUOTED and not job.stage_moves.exists()


def test_a_correction_moves_no_job(job):
    slip = take(job, 50_00)
    take(job, 100_00)
    job.refresh_from_db()
    job_move(job=job, to=Stage.QUOTED, by=None, reason="They want to think", now=NOW)
    payment_correct(line=slip, note="", by=None, now=NOW)
    assert stage_of(job) == Stage.QUOTED


@pytest.mark.parametrize("stage", [Stage.CALLED_OFF, Stage.LET_GO, Stage.LOST])
def test_money_for_a_job_that_ended_early_does_not_bring_it_back(job, stage):
    Job.objects.filter(pk=job.pk).update(stage=stage)
    job.refresh_from_db()
    take(job, 100_00)
    assert stage_of(job) == stage


def test_a_job_is_done_once_it_is_up_paid_and_down(job):
    take(job, 150_00)
    fact_moves(job=job, to=Stage.UP, why="It hangs", by=None, now=NOW)
    strike = strike_of(job)
    take(job, 50_00)
    assert stage_of(job) == Stage.UP
    Visit.objects.filter(pk=strike.pk).update(done_at=NOW)
    take(job, 1)
    assert stage_of(job) == Stage.DONE
    assert job.stage_moves.last().reason == SETTLED


def test_with_nothing_to_take_down_the_last_payment_is_the_end(job):
    strike_of(job, called_off_at=NOW)
    take(job, 100_00)
    fact_moves(job=job, to=Stage.UP, why="It hangs", by=None, now=NOW)
    take(job, 100_00)
    assert stage_of(job) == Stage.DONE


def test_paid_before_it_hangs_a_job_is_done_as_it_hangs(job):
    take(job, 200_00)
    assert stage_of(job) == Stage.PROMISED
    fact_moves(job=job, to=Stage.UP, why="It hangs", by=None, now=NOW)
    assert stage_of(job) == Stage.DONE


def test_a_job_nobody_agreed_a_price_for_is_never_done_by_itself():
    job = JobFactory(stage=Stage.MADE)
    fact_moves(job=job, to=Stage.UP, why="It hangs", by=None, now=NOW)
    assert stage_of(job) == Stage.UP


def test_a_fact_moves_through_every_knot_on_the_way_with_its_reason():
    job = JobFactory(stage=Stage.PROMISED)
    fact_moves(job=job, to=Stage.UP, why="It hangs", by=None, now=NOW)
    moves = job.stage_moves.values_list("to_stage", "reason")
    assert list(moves) == [("made", "It hangs"), ("up", "It hangs")]


@pytest.mark.parametrize("stage", [Stage.MADE, Stage.DONE, Stage.CALLED_OFF])
def test_a_fact_says_nothing_where_the_job_is_there_beyond_or_gone(stage):
    job = JobFactory(stage=stage)
    assert fact_moves(job=job, to=Stage.MADE, why="All is made", by=None, now=NOW) is None
    assert stage_of(job) == stage and not job.stage_moves.exists()


def test_a_fact_leaves_an_archived_job_alone():
    job = JobFactory(stage=Stage.PROMISED, archived_at=NOW)
    assert fact_moves(job=job, to=Stage.MADE, why="All is made", by=None, now=NOW) is None
