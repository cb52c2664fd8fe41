"""Everything that can happen to the shelf, in any order, against a model in plain Python.

After every step the sum of each bag's lines, what the bag says, and what is free on each of a few
days are what the model says.
"""

from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta

import pytest
from django.db import connection, transaction
from django.db.models import Sum
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    precondition,
    rule,
    run_state_machine_as_test,
)

from decor.jobs.stages import job_move
from decor.models import Job
from decor.models.job import Stage
from inventory.free.service import free_on
from inventory.holds.service import ShelfShort, hold_firm, hold_soft
from inventory.holds.taking import balloons_lose, balloons_return, balloons_take
from inventory.ledger.reading import shelf_problems
from inventory.ledger.service import BagRefused, bag_count, bag_open, bag_receive, bag_throw_away
from inventory.models import Bag, Hold, Item, LedgerLine, Order, OrderLine
from tests.factories import ColourFactory, ItemFactory, JobFactory, SupplierFactory

NOW = datetime(2026, 6, 13, 15, 0, tzinfo=UTC)
TODAY = date(2026, 6, 13)
DAYS = [TODAY + timedelta(days=n) for n in (0, 1, 3, 7)]
JOBS, ITEMS = 2, 2

quantities = st.integers(0, 60)
some = st.integers(0, 30)
which = st.integers(0, 30)
day = st.sampled_from(DAYS)


@dataclass
class ModelBag:
    item: int
    printed: int
    left: int
    is_open: bool = False
    out: dict[int, int] = field(default_factory=dict)  # by job: taken and not returned


@dataclass
class ModelHold:
    quantity: int
    needed_on: date
    is_firm: bool = False


class Shelf:
    """What should be true, worked out the long way round."""

    def __init__(self) -> None:
        self.bags: dict[int, ModelBag] = {}
        self.holds: dict[tuple[int, int], ModelHold] = {}  # by job and item
        self.used: dict[tuple[int, int], int] = {}
        self.orders: list[tuple[int, int, date]] = []

    def outstanding(self, key: tuple[int, int]) -> int:
        hold = self.holds[key]
        return hold.quantity - min(hold.quantity, max(0, self.used.get(key, 0)))

    def free(self, item: int, on: date, but_for: int | None = None) -> int:
        shelf = sum(bag.left for bag in self.bags.values() if bag.item == item)
        held = sum(
            self.outstanding(key)
            for key, hold in self.holds.items()
            if key[1] == item and key[0] != but_for and hold.needed_on <= on
        )
        return shelf - held + sum(q for i, q, day in self.orders if i == item and day < on)

    def promisable(self, item: int, on: date, but_for: int | None = None) -> int:
        """Day by day, as far as anything is known of."""
        days = [on + timedelta(days=n) for n in range(15)]
        return min(self.free(item, each, but_for) for each in days)


class ShelfMachine(RuleBasedStateMachine):
    def __init__(self) -> None:
        super().__init__()
        self.atomic = transaction.atomic()
        self.atomic.__enter__()
        self.shelf = Shelf()
        colours = [ColourFactory(key=key) for key in ("fern", "oat")]
        self.items = [ItemFactory(colour=colour) for colour in colours]
        self.jobs = [JobFactory(title=f"Job {n}", stage=Stage.PROMISED) for n in range(JOBS)]
        self.supplier = SupplierFactory()

    def teardown(self) -> None:
        assert shelf_problems_but_guards() == []
        transaction.set_rollback(True)
        self.atomic.__exit__(None, None, None)

    def bag(self, number: int) -> tuple[Bag, ModelBag]:
        pk = sorted(self.shelf.bags)[number % len(self.shelf.bags)]
        return Bag.objects.get(pk=pk), self.shelf.bags[pk]

    @initialize(printed=st.integers(20, 60))
    def begin(self, printed: int) -> None:
        """With something of everything, so that there is something to hold and take."""
        for item in range(ITEMS):
            self.receive(item, printed)

    @rule(item=st.integers(0, ITEMS - 1), printed=st.integers(1, 60))
    def receive(self, item: int, printed: int) -> None:
        bag = Bag(item=self.items[item], received_on=TODAY, cost_cents=1, printed_count=printed)
        bag_receive(bag=bag, by=None, now=NOW)
        self.shelf.bags[bag.pk] = ModelBag(item=item, printed=printed, left=printed)

    @rule(item=st.integers(0, ITEMS - 1), bags=st.integers(1, 3), on=day)
    def order(self, item: int, bags: int, on: date) -> None:
        order = Order.objects.create(supplier=self.supplier, ordered_on=TODAY, expected_on=on)
        OrderLine.objects.create(
            order=order, item=self.items[item], bag_count=10, bags=bags, bag_cents=1
        )
        self.shelf.orders.append((item, 10 * bags, on))

    @precondition(lambda self: self.shelf.bags)
    @rule(number=which)
    def open(self, number: int) -> None:
        bag, model = self.bag(number)
        refused = self.refused(lambda: bag_open(bag=bag, by=None, now=NOW))
        assert refused == model.is_open
        model.is_open = True

    @precondition(lambda self: self.shelf.bags)
    @rule(number=which, quantity=quantities, job=st.integers(0, JOBS - 1))
    def take(self, number: int, quantity: int, job: int) -> None:
        bag, model = self.bag(number)
        refused = self.refused(
            lambda: balloons_take(bag=bag, quantity=quantity, job=self.jobs[job], by=None, now=NOW)
        )
        assert refused == (not 0 < quantity <= model.left)
        if not refused:
            self.use(model, job, quantity)
            model.out[job] = model.out.get(job, 0) + quantity

    @precondition(lambda self: self.shelf.bags)
    @rule(number=which, quantity=quantities, job=st.integers(0, JOBS - 1))
    def give_back(self, number: int, quantity: int, job: int) -> None:
        bag, model = self.bag(number)
        refused = self.refused(
            lambda: balloons_return(
                bag=bag, quantity=quantity, job=self.jobs[job], by=None, now=NOW
            )
        )
        assert refused == (not 0 < quantity <= model.out.get(job, 0))
        if not refused:
            model.left += quantity
            model.out[job] -= quantity
            self.shelf.used[job, model.item] -= quantity

    @precondition(lambda self: self.shelf.bags)
    @rule(number=which, quantity=quantities, job=st.integers(0, JOBS - 1))
    def lose(self, number: int, quantity: int, job: int) -> None:
        bag, model = self.bag(number)
        said = {"reason": "popped", "job": self.jobs[job], "by": None, "now": NOW}
        refused = self.refused(lambda: balloons_lose(bag=bag, quantity=quantity, **said))
        assert refused == (not 0 < quantity <= model.left)
        if not refused:
            self.use(model, job, quantity)

    @precondition(lambda self: self.shelf.bags)
    @rule(number=which, counted=quantities)
    def count(self, number: int, counted: int) -> None:
        bag, model = self.bag(number)
        refused = self.refused(
            lambda: bag_count(bag=bag, counted=counted, by=None, now=NOW, why="counted")
        )
        assert refused == (counted > model.printed)
        if not refused:
            model.left = counted

    @precondition(lambda self: self.shelf.bags)
    @rule(number=which)
    def throw_away(self, number: int) -> None:
        bag, model = self.bag(number)
        refused = self.refused(lambda: bag_throw_away(bag=bag, why="old", by=None, now=NOW))
        assert refused == (model.left == 0)
        model.left = 0

    @rule(job=st.integers(0, JOBS - 1), fern=some, oat=some, on=day)
    def hold(self, job: int, fern: int, oat: int, on: date) -> None:
        self.ask(job, {0: fern, 1: oat}, on)

    @rule(job=st.integers(0, JOBS - 1), more=st.integers(-1, 1), on=day)
    def hold_all_that_there_is(self, job: int, more: int, on: date) -> None:
        """Or one less or one more, which is one too many."""
        used = self.shelf.used
        self.ask(
            job,
            {
                item: max(0, used.get((job, item), 0) + self.shelf.promisable(item, on, job) + more)
                for item in range(ITEMS)
            },
            on,
        )

    def ask(self, job: int, asked: dict[int, int], on: date) -> None:
        shelf = self.shelf
        wanted = {
            item: max(quantity, shelf.used.get((job, item), 0))
            for item, quantity in asked.items()
            if quantity
        }
        is_short = any(self.takes_too_many(job, item, q, on) for item, q in wanted.items())
        demand = {self.items[item].pk: quantity for item, quantity in asked.items()}
        try:
            hold_soft(job=self.jobs[job], demand=demand, needed_on=on, today=TODAY, now=NOW)
        except ShelfShort:
            assert is_short
            return
        assert not is_short
        is_firm = any(h.is_firm for (j, _), h in shelf.holds.items() if j == job)
        for item in range(ITEMS):
            shelf.holds.pop((job, item), None)
            if item in wanted:
                shelf.holds[job, item] = ModelHold(wanted[item], on, is_firm)

    @rule(job=st.integers(0, JOBS - 1))
    def firm(self, job: int) -> None:
        hold_firm(job=self.jobs[job], now=NOW)
        for (holder, _), hold in self.shelf.holds.items():
            hold.is_firm = hold.is_firm or holder == job

    @rule(job=st.integers(0, JOBS - 1))
    def call_off(self, job: int) -> None:
        """And take it up again, with nothing held for it any more."""
        for stage in (Stage.CALLED_OFF, Stage.PROMISED):
            moved = Job.objects.get(pk=self.jobs[job].pk)
            job_move(job=moved, to=stage, by=None, reason="The weather", now=NOW)
        for key in [key for key in self.shelf.holds if key[0] == job]:
            del self.shelf.holds[key]

    def takes_too_many(self, job: int, item: int, quantity: int, on: date) -> bool:
        there = self.shelf.holds.get((job, item))
        if there and quantity <= there.quantity and on >= there.needed_on:
            return False
        still = quantity - self.shelf.used.get((job, item), 0)
        return still > max(0, self.shelf.promisable(item, on, but_for=job))

    def use(self, model: ModelBag, job: int, quantity: int) -> None:
        model.left -= quantity
        model.is_open = True
        self.shelf.used[job, model.item] = self.shelf.used.get((job, model.item), 0) + quantity

    @staticmethod
    def refused(act: object) -> bool:
        try:
            act()
        except BagRefused:
            return True
        return False

    @invariant()
    def every_bag_is_the_sum_of_its_lines(self) -> None:
        sums = dict(LedgerLine.objects.order_by().values_list("bag").annotate(Sum("quantity")))
        said = {pk: (left, opened) for pk, left, opened in bags_said()}
        assert sums == {pk: bag.left for pk, bag in self.shelf.bags.items()}
        assert said == {pk: (bag.left, bag.is_open) for pk, bag in self.shelf.bags.items()}

    @invariant()
    def what_is_free_on_each_day_is_what_the_model_says(self) -> None:
        for on in DAYS:
            free = free_on(on=on, today=TODAY, items=[item.pk for item in self.items])
            for at, item in enumerate(self.items):
                assert free[item.pk].free == self.shelf.free(at, on)
                assert free[item.pk].promisable == self.shelf.promisable(at, on)

    @invariant()
    def holds_are_what_the_model_says(self) -> None:
        jobs = [job.pk for job in self.jobs]
        items = [item.pk for item in self.items]
        found = {
            (jobs.index(hold.job_id), items.index(hold.item_id)): (
                hold.quantity,
                hold.quantity - hold.taken,
                hold.needed_on,
                hold.state,
            )
            for hold in Hold.objects.exclude(state="released")
        }
        assert found == {
            key: (
                hold.quantity,
                self.shelf.outstanding(key),
                hold.needed_on,
                "firm" if hold.is_firm else "soft",
            )
            for key, hold in self.shelf.holds.items()
        }


def bags_said() -> list[tuple[int, int, bool]]:
    return list(Bag.objects.values_list("pk", "left", "is_open"))


def shelf_problems_but_guards() -> list[str]:
    """The tests lift one guard on SQLite: see tests/conftest.py."""
    return [problem for problem in shelf_problems() if "does not watch" not in problem]


@pytest.mark.django_db
def test_the_shelf_is_what_a_plain_model_says_whatever_happens_to_it():
    assert Item.objects.count() == 0 and connection.in_atomic_block
    run_state_machine_as_test(
        ShelfMachine,
        settings=settings(
            max_examples=30,
            stateful_step_count=25,
            derandomize=True,
            suppress_health_check=list(HealthCheck),
        ),
    )
