"""Planned against real adds up to the balloon, the minute and the cent."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from decor.models import Visit
from inventory.models import Item
from quoting.estimator.money import round_cents
from quoting.look_back.comparing import compare
from quoting.models import Piece, WorkTime
from quoting.quotes.pricing import quote_priced
from tests.conftest import TODAY
from tests.quoting.look_back.conftest import NOW, used, worked


def test_with_nothing_noted_everything_is_as_planned(job):
    compared = compare(job)
    assert compared.real_cents == compared.planned_cents == compared.planned.price.cost_cents
    assert compared.real_margin_bp == compared.planned_margin_bp
    assert {row.real for row in compared.phases} == {None}
    assert not compared.is_all_timed
    # The cost is that of the quote itself, whatever was added to its price.
    assert compared.planned_cents == quote_priced(job.quotes.get(), today=TODAY).price.cost_cents


def test_every_balloon_and_its_cost_comes_from_the_ledger(job):
    used(job, "oat", 11, quantity=61, lost=3)
    used(job, "fern", 11, quantity=40)
    rows = {str(row.item): row for row in compare(job).items}
    oat = rows["Oat 11-inch"]
    assert (oat.used, oat.lost) == (61, 3)
    assert oat.more == 61 - oat.planned.total
    assert [(bag.bag, bag.place, bag.used, bag.lost) for bag in oat.bags] == [
        ("lot K7", "Box 2", 61, 3)
    ]
    assert oat.bags[0].reasons == ("popped",)
    assert sum(row.used for row in rows.values()) == 101
    balloons = next(row for row in compare(job).money if row.label == "Balloons")
    assert (balloons.real_cents, balloons.is_real) == (round_cents(Decimal(101 * 1500) / 100), True)


def test_hours_are_of_persons_and_cost_what_their_phase_does(job):
    before = compare(job)
    worked(job, "inflate and tie", minutes=45, people=2)
    worked(job, "inflate and tie", minutes=30)
    compared = compare(job)
    row = next(row for row in compared.phases if row.phase == "inflate and tie")
    assert row.real == 2.0
    assert row.real_cents == 2 * 2600  # 26.00 an hour, as on the card
    more = row.real_cents - row.planned_cents
    overhead = round_cents(Decimal(more) / 10)  # a tenth, as on the card
    assert compared.real_cents - before.real_cents == pytest.approx(more + overhead, abs=1)
    margin = (compared.net_cents - compared.real_cents) / compared.net_cents
    assert compared.real_margin_bp == pytest.approx(margin * 10_000, abs=0.5)


def test_what_was_not_planned_shows_too(job):
    used(job, "plum", 5, quantity=7)
    worked(job, "mini-clusters", minutes=20)
    compared = compare(job)
    plum = next(row for row in compared.items if row.item.colour.key == "plum")
    assert (plum.planned.total, plum.more) == (0, 7)
    minis = next(row for row in compared.phases if row.phase == "mini-clusters")
    assert (minis.planned, minis.ratio) == (0, None)


def test_nothing_described_is_nothing_to_compare_with(job):
    Piece.objects.update(spec=None)
    assert compare(job) is None


def test_queries_do_not_grow_with_what_was_used(job, django_assert_max_num_queries):
    used(job, "oat", 11, quantity=10)
    with CaptureQueriesContext(connection) as few:
        compare(job)
    for colour in ("fern", "plum", "marigold"):
        used(job, colour, 11, quantity=5, lost=1)
    assert Item.objects.count() > 3
    with django_assert_max_num_queries(len(few)):
        compare(job)


def test_mending_after_wind_costs_and_says_nothing_of_hanging(job):
    revisit = Visit.objects.create(
        job=job, kind="revisit", starts_at=NOW, ends_at=NOW + timedelta(hours=2), changed_at=NOW
    )
    before = compare(job)
    work = {"started_at": NOW, "stopped_at": NOW, "visit": revisit, "people": 2}
    WorkTime.objects.create(job=job, phase="hang", minutes=45, **work)
    compared = compare(job)
    assert compared.phases == before.phases
    assert compared.mending_hours == 1.5
    mending = next(row for row in compared.money if row.label == "Work on revisits")
    assert (mending.planned_cents, mending.real_cents) == (0, round_cents(Decimal("1.5") * 2600))
    overhead = round_cents(Decimal(mending.real_cents) / 10)
    assert compared.real_cents - before.real_cents == pytest.approx(
        mending.real_cents + overhead, abs=1
    )
