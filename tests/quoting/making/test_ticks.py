"""Counts come late, twice and in any order: the sums, the stock and the hold are the same."""

from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from uuid import uuid4

import pytest
from django.db import connection, transaction
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase

from decor.models import Business, Job
from decor.models.job import Stage
from inventory.holds.service import holds_open, used_for
from inventory.holds.taking import balloons_take
from inventory.ledger.service import bag_throw_away
from inventory.models import Bag, Item, LedgerLine
from quoting.making.bags import SHELF_LACKS
from quoting.making.keys import POINTS, StepKey, Work, step_key
from quoting.making.sheet import making_sheet
from quoting.making.ticks import IS_MADE, Told, counts_of, ticks_take, told_take
from quoting.making.told import NO_SUCH_STEP, NOT_READ, TOO_MANY_AT_ONCE
from quoting.models import PackedBag, Tick
from tests.factories import BagFactory, BusinessFactory
from tests.quoting.making.shop import NOW, bags_made, items_made, job_promised, tick


@pytest.fixture
def job(business: Business) -> Job:
    bags_made(items_made())
    return job_promised()


def step_of(job: Job, rest: str) -> str:
    return f"{job.quotes.get().pieces.get().pk}:{rest}"


def take(job: Job, *ticks: dict) -> tuple[str, ...]:
    return ticks_take(job=job, ticks=ticks, by=None, now=NOW).said


def left(item: Item) -> int:
    return sum(item.bags.values_list("left", flat=True))


def test_keys_are_read_as_they_are_written():
    for key in (
        StepKey(Work.BASE, 12, "oat", 11),
        StepKey(Work.MINI, 7, "sea-glass-2"),
        StepKey(Work.PACK, size=3),
    ):
        assert step_key(str(key)) == key
    for text in (
        "",
        "pack",
        "pack:x",
        "12:base",
        "x:base:oat:11",
        "12:juggle:oat",
        "1:2:3:4:5",
        "1:base:\ud800:11",
        "1:base:oat:11:5",
    ):
        assert step_key(text) is None


def test_each_counted_balloon_leaves_the_bag_and_the_hold(job: Job):
    oat = Item.objects.get(colour__key="oat", nominal_in=11)
    copper = Item.objects.get(kind="foil")
    before = left(oat), left(copper)
    take(job, tick(step_of(job, "base:oat:11"), 10), tick(step_of(job, "starburst:copper")))
    take(job, tick(step_of(job, "cluster:oat"), 2))
    assert (before[0] - left(oat), before[1] - left(copper)) == (10, POINTS)
    assert {hold.item_id: hold.taken for hold in holds_open(job) if hold.taken} == {
        oat.pk: 10,
        copper.pk: POINTS,
    }
    take(job, tick(step_of(job, "base:oat:11"), -4))
    assert before[0] - left(oat) == 6
    assert used_for(job)[oat.pk] == 6


def test_what_is_sent_twice_counts_once(job: Job):
    sent = [tick(step_of(job, "base:oat:11"), 10), tick(step_of(job, "base:oat:11"), 1)]
    first = ticks_take(job=job, ticks=sent, by=None, now=NOW)
    again = ticks_take(job=job, ticks=[*sent, *sent], by=None, now=NOW)
    assert set(first.taken) == set(again.taken) == {each["key"] for each in sent}
    assert counts_of(job) == {step_of(job, "base:oat:11"): 11}
    assert Tick.objects.count() == 2


def test_what_was_taken_by_hand_before_is_neither_taken_again_nor_put_back(job: Job):
    oat = Item.objects.get(colour__key="oat", nominal_in=11)
    balloons_take(bag=oat.bags.first(), quantity=30, job=job, by=None, now=NOW)
    before = left(oat)
    take(job, tick(step_of(job, "base:oat:11"), 20))
    assert left(oat) == before
    take(job, tick(step_of(job, "base:oat:11"), 15))
    assert left(oat) == before - 5
    take(job, tick(step_of(job, "base:oat:11"), -35))
    assert left(oat) == before


def test_a_phone_with_a_wrong_clock_is_not_believed(job: Job):
    step = step_of(job, "base:oat:11")
    told = [
        tick(step, at=(NOW + timedelta(days=400)).isoformat()),
        tick(step, at=(NOW - timedelta(days=400)).isoformat()),
        tick(step, at="yesterday-ish"),
        tick(step, at=(NOW - timedelta(hours=3)).isoformat()),
    ]
    take(job, *told)
    made = list(Tick.objects.order_by("pk").values_list("made_at", flat=True))
    assert made == [NOW, NOW, NOW, NOW - timedelta(hours=3)]


def test_what_cannot_be_read_is_refused_by_itself_and_the_rest_is_kept(job: Job):
    step = step_of(job, "base:oat:11")
    told = [
        tick(step, 5),
        tick(step, 0),
        tick(step, 100_000),
        tick("12:juggle:oat"),
        {"key": "no key", "step": step, "quantity": 1},
        "not even a tick",
    ]
    answer = ticks_take(job=job, ticks=told, by=None, now=NOW)
    assert counts_of(job) == {step: 5}
    assert [each.why for each in answer.refused] == [
        NOT_READ,
        TOO_MANY_AT_ONCE,
        NO_SUCH_STEP,
        NOT_READ,
    ]


def test_a_bag_that_another_sheet_emptied_gives_way_to_the_next(job: Job):
    oat = Item.objects.get(colour__key="oat", nominal_in=11)
    named = making_sheet(job, now=NOW).sections[0].steps[0].bags.next[0].bag
    other = job_promised(title="Tea room window", event_on=job.event_on)
    balloons_take(bag=named, quantity=named.left, job=other, by=None, now=NOW)
    said = take(job, tick(step_of(job, "base:oat:11"), 10, bag=named.pk))
    assert said == (f"{oat}: the bag ran out, the rest is from lot A1, Cupboard.",)
    assert used_for(job)[oat.pk] == 10


def test_counts_stand_where_the_shelf_has_no_more_and_it_follows_later(job: Job):
    oat = Item.objects.get(colour__key="oat", nominal_in=11)
    for bag in oat.bags.all():
        bag_throw_away(bag=bag, why="Wet", quantity=bag.left - 2, by=None, now=NOW)
    said = take(job, tick(step_of(job, "base:oat:11"), 10))
    assert said[-1] == SHELF_LACKS.format(item=oat, count=4)
    assert counts_of(job)[step_of(job, "base:oat:11")] == 10
    assert used_for(job)[oat.pk] == 6
    BagFactory(item=oat)
    take(job, tick(step_of(job, "cluster:oat")))
    assert used_for(job)[oat.pk] == 10


def test_a_lot_that_was_begun_is_gone_on_with(job: Job):
    oat = Item.objects.get(colour__key="oat", nominal_in=11)
    few = oat.bags.order_by("pk").first()
    Bag.objects.filter(pk=few.pk).update(lot="OLD")
    balloons_take(bag=few, quantity=95, job=job_promised(title="Old"), by=None, now=NOW)
    step = step_of(job, "base:oat:11")
    for _ in range(9):
        take(job, tick(step, 4))
    from_lots = set(
        LedgerLine.objects.filter(job=job, kind="taken").values_list("bag__lot", flat=True)
    )
    assert from_lots == {"A1"}


def test_all_steps_done_make_the_job_made_and_pack_its_bags(job: Job):
    sheet = making_sheet(job, now=NOW)
    assert not sheet.plan.problems
    every = [tick(each.step.name, each.step.target) for each in sheet.steps]
    assert take(job, *every[:-1]) == ()
    job.refresh_from_db()
    assert job.stage == Stage.PROMISED
    assert take(job, every[-1]) == (IS_MADE,)
    job.refresh_from_db()
    assert job.stage == Stage.MADE
    assert job.stage_moves.last().reason.startswith("Everything on the making sheet")
    assert PackedBag.objects.filter(job=job).count() == len(sheet.loads)
    needed = {item: hold.taken for hold in holds_open(job) for item in [hold.item_id]}
    assert needed == used_for(job)
    take(job, tick("pack:1", -1))
    assert not PackedBag.objects.filter(job=job, number=1).exists()


def test_a_job_that_is_not_promised_is_not_moved_by_making_it(business: Business):
    bags_made(items_made())
    job = job_promised()
    Job.objects.filter(pk=job.pk).update(stage=Stage.QUOTED)
    job.refresh_from_db()
    every = making_sheet(job, now=NOW).steps
    take(job, *[tick(each.step.name, each.step.target) for each in every])
    job.refresh_from_db()
    assert job.stage == Stage.QUOTED


STEPS = ("base:oat:11", "base:oat:17", "accent:oat:11", "cluster:oat")


class AnyOrder(TestCase):
    """Against the plain sum. Bursts and hands among the counts, and batches of any size."""

    @settings(max_examples=25)
    @given(
        counted=st.lists(
            st.tuples(st.sampled_from(STEPS), st.integers(-6, 12).filter(bool)), max_size=8
        ),
        bursts=st.integers(0, 3),
        order=st.randoms(use_true_random=False),
        by_hand=st.integers(0, 8),
    )
    def test_counts_in_any_order_and_any_number_of_times_come_to_the_same(
        self, counted, bursts, order, by_hand
    ):
        BusinessFactory()
        items = items_made()
        bags_made(items, each=1)
        job = job_promised()
        oat = items["oat 11"]
        if by_hand:
            balloons_take(bag=oat.bags.get(), quantity=by_hand, job=job, by=None, now=NOW)
        told = [("ticks", tick(step_of(job, rest), count)) for rest, count in counted]
        burst = {"step": step_of(job, STEPS[0]), "reason": "popped", "bag": oat.bags.get().pk}
        told += [("popped", {**burst, "key": str(uuid4())}) for _ in range(bursts)]
        replayed = told * 2
        order.shuffle(replayed)
        while replayed:
            size = order.randint(1, 4)
            batch, replayed = replayed[:size], replayed[size:]
            ticks = tuple(each for kind, each in batch if kind == "ticks")
            popped = tuple(each for kind, each in batch if kind == "popped")
            with transaction.atomic():
                told_take(job=job, told=Told(ticks=ticks, popped=popped), by=None, now=NOW)

        sums = {rest: sum(n for step, n in counted if step == rest) for rest in STEPS}
        assert counts_of(job) == {
            step_of(job, rest): sums[rest] for rest in {step for step, _ in counted}
        }
        inflated = max(0, sums["base:oat:11"]) + max(0, sums["accent:oat:11"])
        assert job.popped.count() == bursts
        assert LedgerLine.objects.filter(kind="lost", job=job).count() == bursts
        bag = oat.bags.get()
        # By hand more may be out than is counted; a burst balloon was one of them, or one more.
        out = bag.printed_count - bag.left - bursts
        assert max(inflated, by_hand - bursts) <= out <= max(inflated, by_hand)
        hold = holds_open(job).get(item=oat)
        assert hold.taken == min(hold.quantity, out + bursts)


@pytest.mark.django_db(transaction=True)
def test_two_sheets_empty_one_bag_at_once_and_no_balloon_is_lost():
    """Each counts ten at a time, at the same moments, until the first bags are long empty."""
    BusinessFactory()
    items = items_made()
    bags_made(items, each=2)
    oat = items["oat 11"]
    jobs = [job_promised(), job_promised(title="Tea room window")]

    def at_the_bench(job: Job) -> None:
        try:
            for _ in range(9):
                take(job, tick(step_of(job, "base:oat:11"), 10))
        finally:
            connection.close()

    with ThreadPoolExecutor(max_workers=2) as benches:
        list(benches.map(at_the_bench, jobs))
    assert [used_for(job)[oat.pk] for job in jobs] == [90, 90]
    assert left(oat) == 2 * 100 - 2 * 90
