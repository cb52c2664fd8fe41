from datetime import UTC, datetime

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError
from django.db import connection

from decor.models import Business, Client, Job, StageMove
from decor.models.job import Stage
from inventory.models import Colour
from quoting.demo import make
from quoting.demo.conflict import CONFLICT_JOBS
from quoting.demo.scenario import JOBS as SCENARIO
from quoting.models import Edition, Piece
from tests.factories import BusinessFactory

JOBS = (*SCENARIO, *CONFLICT_JOBS)
NOW = datetime(2026, 11, 25, 15, 0, tzinfo=UTC)


@pytest.fixture
def demo(db):
    return make.demo_make(password="six-oat-balloons", now=NOW)


def _all_rows() -> dict[str, list]:
    models = (Business, Client, Job, StageMove, Colour, Piece, Edition)
    return {model.__name__: list(model.objects.order_by("pk").values()) for model in models}


def test_a_demo_has_its_jobs_and_a_sample_quote(demo, tmp_path):
    assert dict(Job.objects.values_list("title", "stage")) == {job.title: job.stage for job in JOBS}
    assert {job.stage for job in JOBS} >= {Stage.ASKED, Stage.QUOTED, Stage.PROMISED, Stage.DONE}
    assert Client.objects.count() == len({job.client.name for job in JOBS})
    assert Piece.objects.count() == sum(len(job.pieces) for job in JOBS)
    assert not Piece.objects.filter(spec=None).exists()
    assert make.sample_quote_write(tmp_path).read_bytes().startswith(b"%PDF-")


def test_made_again_a_demo_is_left_as_it_was_and_a_half_made_one_is_completed(demo):
    before = _all_rows()
    later = datetime(2026, 12, 24, 9, 0, tzinfo=UTC)
    make.demo_make(password="another", now=later)
    assert _all_rows() == before
    demo.refresh_from_db()
    assert demo.check_password("six-oat-balloons")
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
