from datetime import UTC, datetime

import pytest
from django.db import IntegrityError, transaction
from django.db.models import ProtectedError

from decor.jobs.stages import (
    ALREADY_THERE,
    ARCHIVED,
    ENDED_EARLY,
    MOVED_MEANWHILE,
    ON_THE_STRING,
    SAY_WHY,
    MoveRefused,
    job_move,
    ways_from,
)
from decor.models import Job, StageMove
from decor.models.append_only import WrittenOnce
from decor.models.job import Stage
from tests.factories import JobFactory, UserFactory

pytestmark = pytest.mark.django_db
NOW = datetime(2026, 6, 13, 15, 0, tzinfo=UTC)

# The whole table, written out by hand from the owner's words: where from, where to.
ALLOWED = [
    ("asked", "quoted"),
    ("quoted", "promised"),
    ("promised", "made"),
    ("made", "up"),
    ("up", "done"),
    ("asked", "let_go"),
    ("asked", "lost"),
    ("quoted", "let_go"),
    ("quoted", "lost"),
    ("promised", "called_off"),
    ("made", "called_off"),
    ("quoted", "asked"),
    ("promised", "quoted"),
    ("made", "promised"),
    ("up", "made"),
    ("done", "up"),
    ("let_go", "asked"),
    ("let_go", "quoted"),
    ("lost", "asked"),
    ("lost", "quoted"),
    ("called_off", "promised"),
    ("called_off", "made"),
]
EVERY_PAIR = [(here, there) for here in Stage.values for there in Stage.values if here != there]


@pytest.fixture
def nell():
    return UserFactory()


@pytest.mark.parametrize(("here", "there"), EVERY_PAIR)
def test_a_job_goes_only_where_the_table_says(here, there, nell):
    job = JobFactory(stage=here)
    if (here, there) in ALLOWED:
        move = job_move(job=job, to=there, by=nell, reason="they rang", now=NOW)
        assert (move.from_stage, move.to_stage, move.moved_by) == (here, there, nell)
        assert (move.moved_at, move.reason) == (NOW, "they rang")
        assert Job.objects.get().stage == job.stage == there
    else:
        with pytest.raises(MoveRefused):
            job_move(job=job, to=there, by=nell, reason="they rang", now=NOW)
        assert Job.objects.get().stage == here
        assert not StageMove.objects.exists()


@pytest.mark.parametrize("way", ALLOWED)
def test_every_move_needs_a_reason(way, nell):
    job = JobFactory(stage=way[0])
    with pytest.raises(MoveRefused, match=SAY_WHY):
        job_move(job=job, to=way[1], by=nell, reason="   ", now=NOW)
    assert not StageMove.objects.exists()


def test_every_stage_but_the_last_leads_on_and_no_job_is_stuck():
    assert {*ON_THE_STRING, *ENDED_EARLY} == set(Stage)
    assert all(ways_from(stage) for stage in Stage)


def test_a_job_already_there_is_left_alone(nell):
    job = JobFactory(stage=Stage.QUOTED)
    with pytest.raises(MoveRefused, match=ALREADY_THERE):
        job_move(job=job, to="quoted", by=nell, reason="sent", now=NOW)
    assert not StageMove.objects.exists()


def test_of_two_who_move_a_job_at_once_the_second_is_told(nell):
    job = JobFactory()
    seen_by_second = Job.objects.get()
    job_move(job=job, to="quoted", by=nell, reason="sent", now=NOW)
    with pytest.raises(MoveRefused, match=MOVED_MEANWHILE):
        job_move(job=seen_by_second, to="lost", by=nell, reason="no answer", now=NOW)
    assert Job.objects.get().stage == "quoted"
    assert StageMove.objects.count() == 1


def test_an_archived_job_stays_where_it_is(nell):
    job = JobFactory(archived_at=NOW)
    with pytest.raises(MoveRefused, match=ARCHIVED):
        job_move(job=job, to="quoted", by=nell, reason="sent", now=NOW)


def test_the_history_cannot_be_changed_or_removed(nell):
    move = job_move(job=JobFactory(), to="quoted", by=nell, reason="sent", now=NOW)
    move.reason = "rewritten"
    for attempt in (
        move.save,
        move.delete,
        StageMove.objects.all().delete,
        lambda: StageMove.objects.update(reason="rewritten"),
        lambda: StageMove.objects.bulk_update([move], ["reason"]),
    ):
        with pytest.raises(WrittenOnce), transaction.atomic():
            attempt()
    with pytest.raises(ProtectedError):
        move.job.delete()
    assert StageMove.objects.get().reason == "sent"


@pytest.mark.parametrize(
    "wrong", [{"to_stage": "asked"}, {"to_stage": "adrift"}, {"from_stage": "adrift"}]
)
def test_the_database_refuses_a_move_that_goes_nowhere(wrong):
    whole = {"job": JobFactory(), "from_stage": "asked", "to_stage": "quoted", "moved_at": NOW}
    with pytest.raises(IntegrityError), transaction.atomic():
        StageMove.objects.create(**{**whole, **wrong})


def test_the_database_refuses_a_stage_it_does_not_know():
    with pytest.raises(IntegrityError), transaction.atomic():
        JobFactory(stage="adrift")
