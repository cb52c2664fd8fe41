"""From the hold to the margin: one job is made, hung and looked back on, and every balloon, minute
and cent of it is found again by adding up the shelf's own lines."""

from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from uuid import uuid4

from decor.models import Visit
from inventory.free.service import free_on
from inventory.ledger.reading import bag_problems
from inventory.models import Bag
from inventory.models.hold import HoldState
from quoting.estimator.money import round_cents
from quoting.installing.service import materials_take, work_sign
from quoting.look_back.comparing import compare
from quoting.look_back.service import look_back_close
from quoting.making.plan import plan_for
from quoting.making.ticks import Told, told_take
from tests.quoting.making.shop import NOW, bags_made, items_made, job_promised, tick

UP = datetime(2026, 6, 20, 15, tzinfo=UTC)


def test_stock_hold_hours_and_margin_add_up(business, owner):
    items = items_made()
    bags = bags_made(items)
    received = {bag.pk: bag.left for bag in bags}
    job = job_promised(event_on=date(2026, 6, 20))
    held = {hold.item_id: hold.quantity for hold in job.holds.filter(state=HoldState.SOFT)}
    plan = plan_for(job)

    first = next(step for step in plan.steps if step.key.item)
    popped = {"key": str(uuid4()), "step": first.name, "reason": "popped", "at": NOW.isoformat()}
    clock = {
        "key": str(uuid4()),
        "phase": "inflate and tie",
        "people": 2,
        "started_at": (NOW - timedelta(minutes=45)).isoformat(),
        "stopped_at": NOW.isoformat(),
    }
    ticks = tuple(tick(step.name, step.target) for step in plan.steps)
    told = Told(ticks=ticks, popped=(popped,), work=(clock,))
    for _ in range(2):
        told_take(job=job, told=told, by=owner, now=NOW)

    install, revisit = (
        Visit.objects.create(
            job=job, kind=kind, starts_at=UP, ends_at=UP + timedelta(hours=1), changed_at=NOW
        )
        for kind in ("install", "revisit")
    )
    job.refresh_from_db()
    work_sign(visit=install, typed_name="Ottilie", by=owner, now=UP)
    materials_take(visit=revisit, item=items["oat 11"], quantity=5, by=owner, now=UP)

    compared = compare(job)
    gone = {bag.pk: received[bag.pk] - bag.left for bag in Bag.objects.filter(pk__in=received)}
    used = {item.pk: sum(gone[bag.pk] for bag in item.bags.all()) for item in items.values()}
    assert {row.item.pk: row.used for row in compared.items} == used
    assert sum(used.values()) == sum(plan.needed.values()) + 1 + 5
    assert sum(row.lost for row in compared.items) == 1
    assert bag_problems() == []

    assert {hold.item_id: hold.quantity for hold in job.holds.all()} == held
    assert set(job.holds.values_list("state", flat=True)) == {HoldState.RELEASED}
    free = free_on(items=used, on=UP.date(), today=UP.date())
    assert {pk: free[pk].free for pk in used} == {
        item.pk: sum(received[bag.pk] for bag in item.bags.all()) - used[item.pk]
        for item in items.values()
    }

    assert compared.real_hours == 1.5
    cost = sum(
        Decimal(gone[bag.pk]) * bag.cost_cents / bag.printed_count
        for bag in Bag.objects.filter(pk__in=received)
    )
    money = {row.label: row for row in compared.money}
    assert money["Balloons"].real_cents == round_cents(cost)
    wages = sum(row.real_cents for row in compared.phases)
    assert money["Work"].real_cents == wages
    direct = sum(row.real_cents for label, row in money.items() if label != "Overhead")
    assert money["Overhead"].real_cents == round_cents(Decimal(direct) / 10)
    assert compared.real_cents == direct + money["Overhead"].real_cents
    kept = look_back_close(job=job, by=owner, now=UP).result["money"]
    assert kept["real_cents"] == compared.real_cents
    left = Decimal(kept["net_cents"] - kept["real_cents"])
    assert kept["real_margin_bp"] == round_cents(left * 10_000 / kept["net_cents"])
