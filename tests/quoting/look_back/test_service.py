import pytest

from decor.models import Job
from decor.models.job import Stage
from quoting.look_back.service import (
    LookBackRefused,
    look_back_close,
    look_back_keep,
    look_back_open_again,
)
from quoting.models import LookBack
from tests.quoting.look_back.conftest import NOW, used, worked


def keep(job: Job, **changes: object) -> LookBack:
    said = {"client_said": "", "note": "", "clusters_hung": {}, "left_out": []}
    return look_back_keep(job=job, **(said | changes))


@pytest.mark.parametrize(
    ("stage", "said"),
    [(Stage.CALLED_OFF, "called off"), (Stage.PROMISED, "nothing to look back on")],
)
def test_there_is_none_of_what_was_never_made(job, stage, said):
    Job.objects.filter(pk=job.pk).update(stage=stage)
    job.refresh_from_db()
    with pytest.raises(LookBackRefused, match=said):
        keep(job)
    with pytest.raises(LookBackRefused, match=said):
        look_back_close(job=job, by=None, now=NOW)
    assert not LookBack.objects.exists()


def test_closed_it_keeps_what_was_so_then(job, owner):
    used(job, "oat", 11, quantity=60, lost=2)
    worked(job, "hang", minutes=90)
    piece = job.quotes.get().pieces.get()
    keep(job, client_said="Lovely", clusters_hung={str(piece.pk): 9}, left_out=["drive", "hang"])
    closed = look_back_close(job=job, by=owner, now=NOW)
    used(job, "oat", 11, quantity=5)
    worked(job, "hang", minutes=30)
    again = look_back_close(job=job, by=owner, now=NOW)
    assert again.result == closed.result
    hang = next(row for row in closed.result["phases"] if row["phase"] == "hang")
    assert hang["real"] == 1.5
    oat = next(row for row in closed.result["items"] if row["name"] == "Oat 11-inch")
    assert (oat["used"], oat["lost"]) == (60, 2)
    assert closed.result["pieces"][0]["clusters_hung"] == 9
    assert closed.left_out == ["drive", "hang"]
    money = closed.result["money"]
    assert money["net_cents"] - money["real_cents"] == pytest.approx(
        money["real_margin_bp"] * money["net_cents"] / 10_000, abs=money["net_cents"] / 20_000
    )
    low, likely, high = closed.result["range"]["person_hours"]
    assert low <= likely <= high
    with pytest.raises(LookBackRefused, match="closed"):
        keep(job, client_said="Something else")


def test_opened_again_it_follows_the_sheets(job, owner):
    look_back_close(job=job, by=owner, now=NOW)
    opened = look_back_open_again(job=job)
    assert (opened.result, opened.closed_at) == (None, None)
    worked(job, "hang", minutes=60)
    closed = look_back_close(job=job, by=owner, now=NOW)
    assert next(row for row in closed.result["phases"] if row["phase"] == "hang")["real"] == 1.0


def test_what_is_only_made_is_not_closed_yet(job):
    Job.objects.filter(pk=job.pk).update(stage=Stage.MADE)
    job.refresh_from_db()
    keep(job, note="Start earlier")
    with pytest.raises(LookBackRefused, match="once it hangs"):
        look_back_close(job=job, by=None, now=NOW)
