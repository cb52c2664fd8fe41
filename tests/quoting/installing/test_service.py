from datetime import timedelta
from uuid import uuid4

import pytest
from django.db import IntegrityError, transaction

from decor.calendar.visits import VisitRefused, visit_done
from decor.display import hours_text
from decor.jobs.photos import photos_add
from decor.models import Visit
from decor.models.append_only import WrittenOnce
from decor.models.job import Stage
from inventory.holds.service import used_for
from inventory.models import Item
from quoting.estimator import Rates, estimate, spec_from_dict
from quoting.installing.checklist import NoSuchCheck, check_set, checklist
from quoting.installing.clocks import clocks_at
from quoting.installing.service import (
    materials_return,
    materials_take,
    work_finish,
    work_sign,
)
from quoting.installing.sheet import visit_sheet
from quoting.making.ticks import Told, told_take
from quoting.models import WorkReceipt, WorkTime
from tests.factories import BagFactory, PieceFactory
from tests.quoting.installing.conftest import NOW, visit_of


def test_a_name_for_the_work_puts_the_job_up_and_is_given_once(install, owner):
    receipt = work_sign(visit=install, typed_name="Ottilie Brand", by=owner, now=NOW)
    job = install.job
    job.refresh_from_db()
    install.refresh_from_db()
    assert (job.stage, install.done_at) == (Stage.UP, NOW)
    assert (receipt.typed_name, receipt.at) == ("Ottilie Brand", NOW)
    assert "Ottilie Brand signed" in job.stage_moves.last().reason
    with pytest.raises(VisitRefused, match="Ottilie Brand signed for this already"):
        work_sign(visit=install, typed_name="Somebody else", by=owner, now=NOW)
    assert WorkReceipt.objects.count() == 1
    with pytest.raises(WrittenOnce):
        receipt.delete()


def test_with_nobody_there_it_is_done_all_the_same(install, owner):
    work_finish(visit=install, by=owner, now=NOW)
    install.job.refresh_from_db()
    assert install.job.stage == Stage.UP
    assert not WorkReceipt.objects.exists()
    receipt = work_sign(visit=install, typed_name="Came later", by=owner, now=NOW)
    assert receipt.visit == install


def test_what_was_called_off_or_does_not_hang_yet_is_refused(quote, install, owner):
    strike = visit_of(quote, "strike", day=21)
    with pytest.raises(VisitRefused, match="before it hangs"):
        work_sign(visit=strike, typed_name="Ottilie", by=owner, now=NOW)
    with pytest.raises(VisitRefused, match="before it hangs"):
        visit_done(visit=strike, by=owner, now=NOW)
    strike.refresh_from_db()
    assert strike.done_at is None
    Visit.objects.filter(pk=install.pk).update(called_off_at=NOW)
    install.refresh_from_db()
    with pytest.raises(VisitRefused, match="called off"):
        work_sign(visit=install, typed_name="Ottilie", by=owner, now=NOW)
    assert not WorkReceipt.objects.exists()


def test_a_list_is_marked_line_by_line_and_back(install, owner):
    lines = checklist(install)
    # The five of the issue, and the scraps that a child could choke on.
    assert len(lines) == 6
    key = lines[0].check.key
    for _ in range(2):
        check_set(visit=install, key=key, is_done=True, by=owner, now=NOW)
    assert [line.mark is not None for line in checklist(install)] == [True] + [False] * 5
    check_set(visit=install, key=key, is_done=False, by=owner, now=NOW)
    assert not install.check_marks.exists()
    with pytest.raises(NoSuchCheck):
        check_set(visit=install, key="nothing", is_done=True, by=owner, now=NOW)


def test_what_is_taken_along_to_mend_leaves_its_bag_and_comes_back(quote, install, owner):
    revisit = visit_of(quote, "revisit", day=21)
    oat = Item.objects.get(colour__key="oat", nominal_in=11)
    bags = [BagFactory(item=oat, printed_count=10, lot="A"), BagFactory(item=oat, printed_count=10)]
    with pytest.raises(VisitRefused, match="Only 20"):
        materials_take(visit=revisit, item=oat, quantity=21, by=owner, now=NOW)
    assert not revisit.materials.exists()
    taken = materials_take(visit=revisit, item=oat, quantity=12, by=owner, now=NOW)
    assert sum(each.taken for each in taken) == 12
    assert used_for(quote.job) == {oat.pk: 12}
    assert "Revisit on Sunday 21 June 2026" in taken[0].line.why
    for _ in range(2):
        materials_return(material=taken[0], by=owner, now=NOW)
    assert used_for(quote.job) == {oat.pk: 12 - taken[0].taken}
    assert sum(bag.left for bag in bags if not bag.refresh_from_db()) == 8 + taken[0].taken


def test_the_database_keeps_a_receipt_to_one_name_for_one_visit(install, owner):
    photos_add(job=install.job, pictures=[])
    with pytest.raises(IntegrityError), transaction.atomic():
        WorkReceipt.objects.create(visit=install, typed_name="", at=NOW, timezone="UTC")


def test_each_visit_says_its_own_hours(quote, install, owner):
    """To hang by the rates; to take down by the rates; to mend as long as was planned for it."""
    strike, revisit = visit_of(quote, "strike", day=21), visit_of(quote, "revisit", day=20)
    hang, down, mend = (
        visit_sheet(each, now=NOW, with_pictures=False).hours for each in (install, strike, revisit)
    )
    times = Rates().unit_times
    length_m = estimate(spec_from_dict(quote.pieces.get().spec)).path_length_m
    assert down == hours_text((times.strike_s + times.strike_per_m_s * length_m) / 3600)
    assert mend == "2 h 30 min"
    assert len({hang, down, mend}) == 3


def test_of_two_ladders_the_higher_is_said(quote, install):
    lower = PieceFactory(quote=quote)
    lower.spec |= {"site": quote.pieces.first().spec["site"] | {"height_m": 2.5}}
    lower.save()
    sheet = visit_sheet(install, now=NOW, with_pictures=False)
    ladders = [caution for caution in sheet.cautions if "ladder" in caution]
    assert len(sheet.pieces) == 2
    assert [caution.partition(" needs")[0] for caution in ladders] == ["Work at 8 ft 6 in"]
    assert sheet.ladder.startswith("Leaning at 8 ft 6 in")


def test_a_clock_at_the_place_counts_for_its_visit_and_another_s_is_stopped_first(quote, install):
    strike = visit_of(quote, "strike", day=21)
    told = {"phase": "drive", "people": 2, "started_at": NOW.isoformat(), "visit": install.pk}
    key, later = str(uuid4()), NOW + timedelta(minutes=30)
    told_take(job=install.job, told=Told(work=(told | {"key": key},)), by=None, now=NOW)
    for visit in (install, strike):
        drive = next(each for each in clocks_at(visit, now=NOW) if each.phase == "drive")
        assert str(drive.running.key) == key
    stopped = told | {"key": key, "stopped_at": later.isoformat()}
    for _ in range(2):
        told_take(job=install.job, told=Told(work=(stopped,)), by=None, now=later)
    clock = WorkTime.objects.get()
    assert (clock.visit, clock.person_minutes) == (install, 60)
    drive = {visit.kind: clocks_at(visit, now=later)[-2:] for visit in (install, strike)}
    assert [each.phase for each in drive["install"]] == ["hang", "check and fill"]
    assert [(each.phase, each.person_minutes) for each in drive["strike"]] == [
        ("drive", 0),
        ("strike", 0),
    ]
