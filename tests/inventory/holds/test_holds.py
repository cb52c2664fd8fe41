from datetime import UTC, date, datetime, timedelta

import pytest
from django.db import IntegrityError, transaction

from decor.models.payment import DueKind
from decor.payments.service import PlannedDue, schedule_set
from inventory.holds.needs import Wanted, needs_acknowledge, needs_open, quickest_suppliers
from inventory.holds.proposing import bags_proposed
from inventory.holds.service import (
    ShelfShort,
    hold_firm,
    hold_release,
    hold_soft,
    holds_open,
)
from inventory.holds.taking import (
    balloons_lose_taken,
    balloons_return,
    balloons_take,
    hold_take,
)
from inventory.ledger.service import bag_open, bag_throw_away
from inventory.models import Bag, Hold, Supplier, SupplierBag
from tests.factories import BagFactory, DeliveryFactory, ItemFactory, JobFactory, SupplierFactory

pytestmark = pytest.mark.django_db
NOW = datetime(2026, 6, 13, 15, 0, tzinfo=UTC)
MAKING = date(2026, 6, 19)


@pytest.fixture
def fern():
    """Two bags of a hundred."""
    item = ItemFactory()
    BagFactory(item=item)
    BagFactory(item=item)
    return item


@pytest.fixture
def job():
    return JobFactory(stage="promised")


def ask(job, item, quantity, *, today, needed_on=MAKING, **said):
    return hold_soft(
        job=job, demand={item.pk: quantity}, needed_on=needed_on, today=today, now=NOW, **said
    )


def test_a_refusal_names_what_is_missing_and_holds_nothing(fern, job, today):
    oat = ItemFactory(nominal_in=5)
    with pytest.raises(ShelfShort, match="Not enough is free: 1 more Fern 11-inch, 7 more"):
        hold_soft(job=job, demand={fern.pk: 201, oat.pk: 7}, needed_on=MAKING, today=today, now=NOW)
    assert not Hold.objects.exists()


def test_a_hold_asked_for_again_becomes_what_is_asked_for_now(fern, job, today):
    ask(job, fern, 150, today=today)
    (hold,) = ask(job, fern, 200, today=today, source="LL-1042")
    assert (hold.quantity, hold.source) == (200, "LL-1042")
    assert ask(job, fern, 0, today=today) == []
    assert Hold.objects.get().state == "released"


def test_less_of_it_can_always_be_held_though_the_shelf_is_short(fern, job, today):
    ask(job, fern, 180, today=today)
    bag_throw_away(bag=Bag.objects.first(), why="damp", by=None, now=NOW)
    with pytest.raises(ShelfShort):
        ask(job, fern, 181, today=today)
    with pytest.raises(ShelfShort):
        ask(job, fern, 180, today=today, needed_on=MAKING - timedelta(days=1))
    (hold,) = ask(job, fern, 170, today=today, needed_on=MAKING + timedelta(days=1))
    assert hold.quantity == 170


def test_what_a_later_job_holds_is_not_promised_to_an_earlier_one(fern, job, today):
    ask(job, fern, 150, today=today)
    with pytest.raises(ShelfShort, match="10 more"):
        ask(JobFactory(title="Sooner"), fern, 60, today=today, needed_on=today)


def test_more_than_there_is_may_be_promised_of_what_is_being_bought(fern, job, today):
    (hold,) = ask(job, fern, 250, today=today, may_be_short=[fern.pk])
    assert hold.quantity == 250


def test_the_deposit_makes_holds_firm_and_those_that_come_after_it(fern, job, today):
    ask(job, fern, 50, today=today)
    assert hold_firm(job=job, now=NOW) == 1
    oat = ItemFactory(nominal_in=5)
    BagFactory(item=oat)
    hold_soft(job=job, demand={fern.pk: 50, oat.pk: 5}, needed_on=MAKING, today=today, now=NOW)
    assert set(holds_open(job).values_list("state", flat=True)) == {"firm"}
    assert set(holds_open(job).values_list("firmed_at", flat=True)) == {NOW}


def test_taking_uses_the_hold_up_and_what_comes_back_is_held_again(fern, job, today):
    (hold,) = ask(job, fern, 60, today=today)
    bag = Bag.objects.first()
    said = {"bag": bag, "job": job, "by": None, "now": NOW}
    balloons_take(quantity=50, **said)
    balloons_return(quantity=20, **said)
    hold.refresh_from_db()
    assert hold.taken == 30
    balloons_lose_taken(quantity=10, reason="popped", **said)
    hold.refresh_from_db()
    assert hold.taken == 30  # the job has used them: spares are in what it holds
    balloons_take(quantity=70, **said)
    hold.refresh_from_db()
    assert hold.taken == 60


def test_a_hold_is_taken_from_the_bags_that_are_proposed(fern, job, today):
    (hold,) = ask(job, fern, 130, today=today)
    assert hold_take(hold=hold, by=None, now=NOW) == 130
    assert hold_take(hold=hold, by=None, now=NOW) == 0
    assert sorted(Bag.objects.values_list("left", flat=True)) == [0, 70]
    hold_release(job=job, now=NOW)
    assert hold_take(hold=hold, by=None, now=NOW) == 0


def test_the_database_refuses_two_holds_of_one_item_and_taking_above_it(fern, job):
    said = {"job": job, "item": fern, "quantity": 5, "needed_on": MAKING, "placed_at": NOW}
    Hold.objects.create(**said)
    for wrong in (said, {**said, "state": "released", "taken": 6}):
        with pytest.raises(IntegrityError), transaction.atomic():
            Hold.objects.create(**wrong)
    with pytest.raises(IntegrityError), transaction.atomic():
        Hold.objects.update(quantity=-1)


# Bags as lot, day of April received, how many are left, opened; then how many are wanted; then
# which bags, by their place in the list, and how many of each.
PROPOSED = {
    "the opened bag first, though another is older": (
        [("A", 1, 100, False), ("A", 9, 40, True)], 60, [(1, 40), (0, 20)],
    ),
    "then the oldest": ([("A", 9, 100, False), ("A", 1, 100, False)], 60, [(1, 60)]),
    "one lot that is enough before two lots that are opened": (
        [("A", 1, 40, True), ("B", 5, 100, False)], 60, [(1, 60)],
    ),
    "lot after lot where none is enough": (
        [("A", 1, 40, True), ("B", 5, 60, False), ("A", 7, 10, False)],
        100,
        [(0, 40), (2, 10), (1, 50)],
    ),
    "what there is, where it is not enough": ([("A", 1, 40, True)], 60, [(0, 40)]),
    "no empty bag": ([("A", 1, 0, True), ("A", 2, 9, False)], 5, [(1, 5)]),
    "nothing for nothing": ([("A", 1, 40, True)], 0, []),
}  # fmt: skip


@pytest.mark.parametrize("which", PROPOSED)
def test_bags_are_proposed(which, fern):
    described, wanted, expected = PROPOSED[which]
    bags = [
        Bag(pk=n + 1, item=fern, lot=lot, received_on=date(2026, 4, day), left=left, is_open=opened)
        for n, (lot, day, left, opened) in enumerate(described)
    ]
    proposed = [(bags.index(p.bag), p.quantity) for p in bags_proposed(bags, wanted)]
    assert proposed == expected


def test_bags_without_a_lot_are_of_their_deliverys_shade(fern):
    first, second = Bag.objects.order_by("pk")
    other = DeliveryFactory()
    third = BagFactory(item=fern, lot="", delivery=other)
    Bag.objects.filter(pk__in=[first.pk, second.pk]).update(lot="")
    bag_open(bag=first, by=None, now=NOW)
    Bag.objects.filter(pk=second.pk).update(delivery=other)
    pair = bags_proposed(Bag.objects.all(), 150)
    assert [p.bag.pk for p in pair] == [second.pk, third.pk]


def test_a_need_is_open_until_a_hold_stands_in_its_place(fern, job, today):
    want = Wanted(item=fern.pk, quantity=250, arrives_on=today)
    needs_acknowledge(job=job, wanted=[want], needed_on=MAKING, by=None, now=NOW)
    needs_acknowledge(job=job, wanted=[want], needed_on=MAKING, by=None, now=NOW)
    assert needs_open().count() == 1
    ask(job, fern, 200, today=today)
    assert not needs_open().exists()


def test_the_quickest_of_those_who_sell_it_is_asked(fern):
    for name, lead in (("Slow", 9), ("Quick", 2), ("Middling", 5)):
        supplier = SupplierFactory(name=name, lead_days=lead)
        SupplierBag.objects.create(supplier=supplier, item=fern, bag_count=100, bag_cents=1)
    assert quickest_suppliers([fern.pk])[fern.pk].name == "Quick"
    Supplier.objects.filter(name="Quick").update(archived_at=NOW)
    assert quickest_suppliers([fern.pk])[fern.pk].name == "Middling"


def test_the_jobs_page_shows_bags_takes_them_and_makes_holds_firm(owner_client, fern, job, today):
    page = owner_client.get(f"/shelf/jobs/{job.pk}/")
    assert b"Nothing is held" in page.content
    (hold,) = ask(job, fern, 130, today=today)
    page = owner_client.get(f"/shelf/jobs/{job.pk}/").content.decode()
    assert "Hold it firmly" in page and "lot A1" in page
    dues = [PlannedDue(DueKind.DEPOSIT, today, 100_00)]
    schedule_set(job=job, dues=dues, source="", now=NOW)
    page = owner_client.get(f"/shelf/jobs/{job.pk}/").content.decode()
    assert "The deposit has come" in page and f"/money/jobs/{job.pk}/payment/" in page
    owner_client.post(f"/shelf/jobs/{job.pk}/firm/")
    owner_client.post(f"/shelf/holds/{hold.pk}/take/")
    hold.refresh_from_db()
    assert (hold.state, hold.taken) == ("firm", 130)
    page = owner_client.get(f"/shelf/jobs/{job.pk}/").content.decode()
    assert "130 taken already" in page and "Take them" not in page
