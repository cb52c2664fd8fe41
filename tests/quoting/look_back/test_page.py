import re
from datetime import timedelta

import pytest
import time_machine
from django.urls import reverse

from decor.models import Job, Visit
from decor.models.job import Stage
from quoting.models import LookBack, Piece
from tests.quoting.look_back.conftest import NOW, used, worked


@pytest.fixture
def noon():
    with time_machine.travel(NOW, tick=False):
        yield


def test_the_page_compares_and_closes(owner_client, job, noon):
    used(job, "oat", 11, quantity=61, lost=3)
    worked(job, "hang", minutes=90)
    page = owner_client.get(reverse("look_back", args=[job.pk])).text
    for said in ("Margin planned", "Margin real", "lot K7, Box 2: 61, 3 lost (popped)",
                 "1 h 30 min", "not timed", "as planned"):  # fmt: skip
        assert said in page, said
    bars = re.findall(r'class="chart-real"[^>]* width="([\d.]+)"', page)
    assert len(bars) == 1
    piece = job.quotes.get().pieces.get()
    saved = owner_client.post(
        reverse("look_back_save", args=[job.pk]),
        {"client_said": "Lovely <b>", f"clusters_{piece.pk}": "11", "left_out": ["hang"],
         "close": "yes"},
        follow=True,
    )  # fmt: skip
    assert "Lovely &lt;b&gt;" in saved.text
    kept = LookBack.objects.get()
    assert kept.closed_at == NOW
    assert kept.clusters_hung == {str(piece.pk): 11}
    owner_client.post(reverse("look_back_reopen", args=[job.pk]))
    kept.refresh_from_db()
    assert kept.closed_at is None


def test_wrong_numbers_are_said_beside_their_field_and_nothing_is_lost(owner_client, job, noon):
    hours = reverse("look_back_hours", args=[job.pk])
    typed = {"phase": "hang", "on": "2026-06-20", "hours": "400", "minutes": "", "people": "1"}
    refused = owner_client.post(hours, typed)
    assert refused.status_code == 422
    assert 'value="400"' in refused.text
    none = owner_client.post(hours, typed | {"hours": ""})
    assert "Say how long it took." in none.text
    to_come = owner_client.post(hours, typed | {"hours": "2", "on": "2026-07-20"})
    assert "has not come yet" in to_come.text
    assert not job.work_times.exists()
    owner_client.post(hours, typed | {"hours": "2"})
    work = job.work_times.get()
    owner_client.post(reverse("look_back_hours_remove", args=[job.pk, work.pk]))
    assert not job.work_times.exists()
    revisit = Visit.objects.create(
        job=job, kind="revisit", starts_at=NOW, ends_at=NOW + timedelta(hours=1), changed_at=NOW
    )
    mended = owner_client.post(
        hours, typed | {"hours": "2", "revisit": revisit.pk}, follow=True
    ).text
    assert "Revisits took 2 h more" in mended and "hang on a revisit" in mended
    piece = job.quotes.get().pieces.get()
    fewer = owner_client.post(
        reverse("look_back_save", args=[job.pk]),
        {"client_said": "Said", f"clusters_{piece.pk}": "-2"},
    )
    assert fewer.status_code == 422
    assert "Said</textarea>" in fewer.text


def test_what_cannot_be_looked_back_on_leads_back(owner_client, job, noon):
    Job.objects.filter(pk=job.pk).update(stage=Stage.CALLED_OFF)
    page = owner_client.get(reverse("look_back", args=[job.pk]), follow=True)
    assert "says nothing of other jobs" in page.text
    Job.objects.filter(pk=job.pk).update(stage=Stage.DONE)
    Piece.objects.update(spec=None)
    assert "Nothing to compare with" in owner_client.get(reverse("look_back", args=[job.pk])).text
