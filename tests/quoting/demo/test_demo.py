from datetime import UTC, datetime

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError
from django.db import connection
from django.utils import timezone

from decor.models import Business, Client, Job, StageMove
from decor.models.job import Stage
from inventory.bags.age import best_before
from inventory.catalogue.service import ON_OFFER
from inventory.ledger.reading import bag_problems
from inventory.losses.service import losses
from inventory.models import (
    Bag,
    Colour,
    Delivery,
    Item,
    Kit,
    LedgerLine,
    Order,
    Supplier,
    SupplierBag,
)
from inventory.shelf.listing import shelf_items
from quoting.demo import make
from quoting.demo.conflict import CONFLICT_JOBS
from quoting.demo.scenario import JOBS as SCENARIO
from quoting.demo.shelf import BAD_LOT
from quoting.models import Edition, Piece
from tests.factories import BusinessFactory

JOBS = (*SCENARIO, *CONFLICT_JOBS)
SHELF = (Supplier, SupplierBag, Delivery, Bag, LedgerLine, Order, Kit)
NOW = datetime(2026, 11, 25, 15, 0, tzinfo=UTC)


def shelf_holds_every_kind_of_bag() -> None:
    """Some part-used, one lot old and one lot bad."""
    shown = shelf_items(best=best_before(today=timezone.localdate(NOW)))
    assert {each.item for each in shown if each.left} == set(Item.objects.filter(ON_OFFER))
    assert [str(each.item) for each in shown if each.past_best] == ["Cockle 5-inch", "Plum 11-inch"]
    assert Bag.objects.filter(is_open=True, left__gt=0).count() > 5
    assert [lot.lot for each in losses() for lot in each.worse_lots] == [BAD_LOT]
    assert bag_problems() == []
    assert sorted(Order.objects.values_list("state", flat=True)) == ["ordered", "received"]
    assert {kit.kind for kit in Kit.objects.all()} == {"stand", "ladder", "pump"}
    assert Kit.objects.filter(holds__job__stage=Stage.PROMISED).exists()


def _all_rows() -> dict[str, list]:
    models = (Business, Client, Job, StageMove, Colour, Piece, Edition, *SHELF)
    return {model.__name__: list(model.objects.order_by("pk").values()) for model in models}


@pytest.mark.django_db
def test_a_demo_has_its_jobs_and_shelf_and_made_again_it_is_left_as_it_was(tmp_path):
    """One test, as each making of a demo renders every quote in it."""
    owner = make.demo_make(password="six-oat-balloons", now=NOW)
    assert dict(Job.objects.values_list("title", "stage")) == {job.title: job.stage for job in JOBS}
    assert {job.stage for job in JOBS} >= {Stage.ASKED, Stage.QUOTED, Stage.PROMISED, Stage.DONE}
    assert Client.objects.count() == len({job.client.name for job in JOBS})
    pieces = [piece for job in JOBS for piece in job.pieces]
    assert Piece.objects.filter(counts=True).count() == len(pieces)
    assert Piece.objects.filter(counts=False).count() == sum(bool(each.other) for each in pieces)
    assert not Piece.objects.filter(spec=None).exists()
    assert make.sample_quote_write(tmp_path).read_bytes().startswith(b"%PDF-")
    shelf_holds_every_kind_of_bag()

    before = _all_rows()
    later = datetime(2026, 12, 24, 9, 0, tzinfo=UTC)
    make.demo_make(password="another", now=later)
    assert _all_rows() == before
    owner.refresh_from_db()
    assert owner.check_password("six-oat-balloons")

    Job.objects.filter(title="Carols by lantern").update(title="Renamed by the owner")
    make.demo_make(password="another", now=later)
    assert Job.objects.count() == len(JOBS) + 1


@pytest.mark.django_db
def test_a_real_business_is_never_touched():
    BusinessFactory(name="A real one")
    with pytest.raises(CommandError, match="not a demo's"):
        call_command("demo", "--no-serve")
    assert not Job.objects.exists()


@pytest.mark.django_db
def test_tables_without_a_demo_business_are_never_touched():
    with pytest.raises(make.NotADemo):
        make.refuse_other_databases()


@pytest.mark.django_db
def test_an_empty_database_may_become_a_demo(monkeypatch):
    monkeypatch.setattr(connection.introspection, "table_names", list)
    make.refuse_other_databases()
