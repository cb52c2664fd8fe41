"""What can happen to a bag, and what cannot."""

from datetime import UTC, datetime

import pytest
from django.contrib.auth.models import User
from django.db import transaction

from decor.models import Job
from decor.models.append_only import WrittenOnce
from inventory.ledger import service
from inventory.ledger.service import (
    BagRefused,
    bag_count,
    bag_lose,
    bag_lose_taken,
    bag_open,
    bag_receive,
    bag_return,
    bag_take,
    bag_throw_away,
    taken_out,
)
from inventory.models import Bag, LedgerLine
from tests.factories import BagFactory, ItemFactory, JobFactory

pytestmark = pytest.mark.django_db
NOW = datetime(2026, 6, 13, 15, 0, tzinfo=UTC)


@pytest.fixture
def bag() -> Bag:
    return BagFactory(printed_count=100)


@pytest.fixture
def job() -> Job:
    return JobFactory()


def lines(bag: Bag) -> list[tuple[str, int]]:
    return list(bag.lines.values_list("kind", "quantity"))


def test_a_bag_comes_full_and_sealed(owner: User) -> None:
    unsaved = Bag(item=ItemFactory(), received_on=NOW.date(), printed_count=50, cost_cents=800)

    bag = bag_receive(bag=unsaved, by=owner, now=NOW)

    line = bag.lines.get()
    assert (line.kind, line.quantity, line.by, line.at) == ("received", 50, owner, NOW)
    bag.refresh_from_db()
    assert (bag.left, bag.is_open) == (50, False)


def test_taking_opens_a_sealed_bag_first(bag: Bag, job: Job, owner: User) -> None:
    line = bag_take(bag=bag, quantity=30, job=job, by=owner, now=NOW)

    assert (line.job, line.by, line.at) == (job, owner, NOW)
    assert lines(bag) == [("received", 100), ("opened", 0), ("taken", -30)]
    assert (bag.left, bag.is_open) == (70, True)
    bag_take(bag=bag, quantity=70, job=job, by=owner, now=NOW)
    assert bag.left == 0
    assert lines(bag).count(("opened", 0)) == 1


def test_a_bag_is_opened_once(bag: Bag, owner: User) -> None:
    bag_open(bag=bag, by=owner, now=NOW)

    with pytest.raises(BagRefused, match="open already"):
        bag_open(bag=bag, by=owner, now=NOW)


@pytest.mark.parametrize(
    ("quantity", "told"), [(0, "One at least"), (-3, "One at least"), (101, "only 100 left")]
)
def test_what_is_not_there_cannot_be_taken_or_lost(
    bag: Bag, job: Job, quantity: int, told: str
) -> None:
    said = {"bag": bag, "quantity": quantity, "job": job, "by": None, "now": NOW}
    with pytest.raises(BagRefused, match=told):
        bag_take(**said)
    with pytest.raises(BagRefused, match=told):
        bag_lose(reason="popped", **said)
    with pytest.raises(BagRefused, match=told):
        bag_throw_away(bag=bag, quantity=quantity, why="wet", by=None, now=NOW)
    assert lines(bag) == [("received", 100)]
    assert not Bag.objects.get().is_open


def test_an_empty_bag_says_that_it_is_empty(bag: Bag) -> None:
    bag_throw_away(bag=bag, why="too old", by=None, now=NOW)

    assert bag.left == 0
    with pytest.raises(BagRefused, match="empty"):
        bag_throw_away(bag=bag, why="too old", by=None, now=NOW)


def test_taking_without_a_job_says_what_for(bag: Bag) -> None:
    with pytest.raises(BagRefused, match="for which job"):
        bag_take(bag=bag, quantity=5, job=None, by=None, now=NOW)

    line = bag_take(bag=bag, quantity=5, job=None, why="a sample", by=None, now=NOW)

    assert (line.why, bag.left) == ("a sample", 95)


def test_no_more_comes_back_from_a_job_than_went_to_it(bag: Bag, job: Job) -> None:
    other = JobFactory(title="Porch swag")
    bag_take(bag=bag, quantity=30, job=job, by=None, now=NOW)
    bag_take(bag=bag, quantity=10, job=other, by=None, now=NOW)
    bag_return(bag=bag, quantity=8, job=job, by=None, now=NOW)

    assert (bag.left, taken_out(bag, job), taken_out(bag, other)) == (68, 22, 10)
    with pytest.raises(BagRefused, match="No more than 22 of this bag are out for Reading"):
        bag_return(bag=bag, quantity=23, job=job, by=None, now=NOW)
    with pytest.raises(BagRefused, match="No more than 0 of this bag are out without a job"):
        bag_return(bag=bag, quantity=1, job=None, why="found", by=None, now=NOW)


def test_a_balloon_that_pops_after_it_was_taken_leaves_the_bag_as_it_is(bag: Bag, job: Job) -> None:
    bag_take(bag=bag, quantity=30, job=job, by=None, now=NOW)

    lost = bag_lose_taken(bag=bag, quantity=2, reason="popped", job=job, by=None, now=NOW)

    assert (lost.quantity, lost.reason, lost.job, bag.left) == (-2, "popped", job, 70)
    assert taken_out(bag, job) == 28
    with pytest.raises(BagRefused, match="No more than 28"):
        bag_lose_taken(bag=bag, quantity=29, reason="leaked", job=job, by=None, now=NOW)


def test_a_balloon_lost_out_of_the_bag_is_gone_from_it(bag: Bag) -> None:
    bag_lose(bag=bag, quantity=3, reason="off_shade", job=None, by=None, now=NOW)

    assert (bag.left, bag.is_open) == (97, True)


def test_a_count_sets_right_what_is_left_and_says_why(bag: Bag) -> None:
    with pytest.raises(BagRefused, match="Say why"):
        bag_count(bag=bag, counted=96, by=None, now=NOW)

    line = bag_count(bag=bag, counted=96, why="miscounted", by=None, now=NOW)
    same = bag_count(bag=bag, counted=96, by=None, now=NOW)

    assert (line.quantity, same.quantity, bag.left) == (-4, 0, 96)


@pytest.mark.parametrize("counted", [-1, 101])
def test_a_count_that_cannot_be_is_refused(bag: Bag, counted: int) -> None:
    with pytest.raises(BagRefused):
        bag_count(bag=bag, counted=counted, why="odd", by=None, now=NOW)
    assert lines(bag) == [("received", 100)]


def test_a_count_written_down_later_leaves_standing_what_happened_since(bag: Bag, job: Job) -> None:
    """Counted 95 when the ledger said 100; then 20 were taken."""
    bag_take(bag=bag, quantity=20, job=job, by=None, now=NOW)

    bag_count(bag=bag, counted=95, left_then=100, why="miscounted", by=None, now=NOW)

    assert bag.left == 75


def test_throwing_away_says_why(bag: Bag) -> None:
    with pytest.raises(BagRefused, match="Say why"):
        bag_throw_away(bag=bag, why="", by=None, now=NOW)
    bag_throw_away(bag=bag, quantity=40, why="wet", by=None, now=NOW)
    assert bag.left == 60


def test_a_line_can_be_neither_changed_nor_removed(bag: Bag) -> None:
    line = bag.lines.get()
    line.quantity = 7
    for change in (
        line.save,
        line.delete,
        bag.lines.all().delete,
        lambda: bag.lines.update(quantity=7),
        lambda: LedgerLine.objects.bulk_update([line], ["quantity"]),
    ):
        with pytest.raises(WrittenOnce), transaction.atomic():
            change()
    assert lines(bag) == [("received", 100)]


def test_every_deed_of_the_service_is_tried_here() -> None:
    deeds = {name for name in vars(service) if name.startswith("bag_")}

    assert deeds <= set(globals())
