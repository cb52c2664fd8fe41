from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from decor.jobs.stages import job_move
from inventory.kit.overlaps import Out, most_out
from inventory.kit.service import (
    KitRefused,
    kit_archive,
    kit_free,
    kit_hold,
    kit_holds_open,
    kit_save,
)
from inventory.models import Kit, KitHold
from tests.factories import JobFactory

NOW = datetime(2026, 6, 13, 15, 0, tzinfo=UTC)
DAY_0 = date(2026, 6, 1)
days = st.integers(0, 20)
spans = st.tuples(days, st.integers(0, 6), st.integers(1, 3))


def day(n: int) -> date:
    return DAY_0 + timedelta(days=n)


@given(outs=st.lists(spans, max_size=8), asked=spans, rest=st.integers(0, 4))
def test_the_most_out_at_once_is_what_counting_day_by_day_finds(outs, asked, rest):
    """By brute force: every day of the new hold, its rest included, against every other."""
    start, length, _ = asked
    counted = max(
        sum(q for begin, long, q in outs if begin <= on <= begin + long + rest)
        for on in range(start, start + length + rest + 1)
    )
    found = most_out(
        [Out(quantity=q, from_on=day(b), until_on=day(b + long)) for b, long, q in outs],
        from_on=day(start),
        until_on=day(start + length),
        turnaround_days=rest,
    )
    assert found == counted


@pytest.fixture
def stand(db):
    return kit_save(
        kit=Kit(name="Ring stand", kind="stand", count=2, turnaround_days=1), today=DAY_0
    )


def hold(kit, title, begin, end, quantity=1):
    return kit_hold(
        job=JobFactory(title=title, stage="promised"),
        kit=kit,
        quantity=quantity,
        from_on=day(begin),
        until_on=day(end),
        now=NOW,
    )


def test_kit_is_held_until_there_is_no_more_and_free_again_after_its_rest(stand):
    hold(stand, "First", 5, 6)
    hold(stand, "Second", 6, 6)
    for begin, end in ((6, 6), (7, 7), (4, 5), (1, 9)):
        with pytest.raises(KitRefused, match="0 of 2 are free"):
            hold(stand, "Third", begin, end)
    hold(stand, "Third", 8, 8, quantity=2)
    hold(stand, "Fourth", 2, 3)


def test_a_job_may_change_what_it_has_of_a_kit(stand):
    first = hold(stand, "First", 5, 6)
    again = kit_hold(job=first.job, kit=stand, quantity=2, from_on=day(5), until_on=day(5), now=NOW)
    assert again.pk == first.pk and KitHold.objects.get().quantity == 2


def test_kit_that_is_put_away_is_not_promised(stand):
    kit_archive(kit=stand, now=NOW)
    with pytest.raises(KitRefused):
        hold(stand, "First", 5, 6)


def test_there_cannot_be_fewer_than_are_promised(stand):
    hold(stand, "First", 5, 6, quantity=2)
    stand.count = 1
    with pytest.raises(KitRefused, match="2 are promised"):
        kit_save(kit=stand, today=DAY_0)
    kit_save(kit=stand, today=day(20))


@pytest.mark.parametrize(("stage", "is_held"), [("called_off", False), ("made", True)])
def test_kit_comes_back_when_the_job_ends_and_not_while_it_hangs(stand, stage, is_held):
    job = hold(stand, "First", 5, 6).job
    job_move(job=job, to=stage, by=None, reason="Storm", now=NOW)
    if is_held:
        job_move(job=job, to="up", by=None, reason="It hangs", now=NOW)
    assert kit_holds_open(job).exists() == is_held


def test_what_is_free_takes_two_queries_for_any_number_of_kit(stand, django_assert_num_queries):
    for n in range(4):
        kit_save(kit=Kit(name=f"Pump {n}", kind="pump", count=1), today=DAY_0)
        hold(stand, f"Job {n}", 10 * n, 10 * n)
    with django_assert_num_queries(2):
        free = kit_free(from_on=day(10), until_on=day(11))
    assert {one.kit.name: one.free for one in free}["Ring stand"] == 1


def test_kit_is_added_changed_and_put_away_on_its_pages(owner_client):
    page = owner_client.get("/shelf/kit/")
    assert b"No kit yet" in page.content
    said = {"name": "Long ladder", "kind": "ladder", "count": "1", "turnaround_days": "0"}
    refused = owner_client.post("/shelf/kit/new/", {**said, "count": "0"})
    assert refused.status_code == 422 and b"One at least" in refused.content
    owner_client.post("/shelf/kit/new/", said)
    kit = Kit.objects.get()
    again = owner_client.post("/shelf/kit/new/", {**said, "name": "long LADDER"})
    assert again.status_code == 422 and b"kit of that name already" in again.content
    owner_client.post(f"/shelf/kit/{kit.pk}/", {**said, "count": "3"})
    kit.refresh_from_db()
    assert kit.count == 3
    owner_client.post(f"/shelf/kit/{kit.pk}/archive/")
    assert b"Bring it back" in owner_client.get("/shelf/kit/").content


def test_kit_is_held_for_a_job_on_its_page_with_the_refusal_beside_the_field(owner_client, stand):
    hold(stand, "Other", 5, 6, quantity=2)
    job = JobFactory(event_on=day(5))
    asked = {"kit": stand.pk, "quantity": "1", "from_on": day(5), "until_on": day(5)}
    refused = owner_client.post(f"/shelf/jobs/{job.pk}/kit/", asked)
    assert refused.status_code == 422 and b"0 of 2 are free" in refused.content
    late = {**asked, "from_on": day(8), "until_on": day(7)}
    refused = owner_client.post(f"/shelf/jobs/{job.pk}/kit/", late)
    assert b"cannot come back before" in refused.content
    owner_client.post(f"/shelf/jobs/{job.pk}/kit/", {**late, "until_on": day(8)})
    mine = KitHold.objects.get(job=job)
    assert b"Ring stand" in owner_client.get(f"/shelf/jobs/{job.pk}/").content
    owner_client.post(f"/shelf/kit-holds/{mine.pk}/give-back/")
    assert not kit_holds_open(job).exists()
