"""What the sheet says, against the recipe it is made from."""

from collections import Counter
from datetime import timedelta
from io import BytesIO

import pytest
from django.db import IntegrityError, transaction
from pypdf import PdfReader

from decor.models import Business, Job
from inventory.holds.service import holds_open
from quoting.making.cards import card_sections, shared_out
from quoting.making.documents import bag_labels, labels_pdf, sheet_pdf
from quoting.making.pace import Pace, pace_of
from quoting.making.pieces import NO_QUOTE, WHICH_QUOTE
from quoting.making.plan import plan_for
from quoting.making.sheet import making_sheet
from quoting.making.ticks import Told, ticks_take, told_take
from quoting.making.working import person_minutes, work_type
from quoting.models import ClientAnswer, PackedBag, WorkTime
from tests.factories import JobFactory, PieceFactory, QuoteFactory
from tests.quoting.making.shop import (
    NOW,
    bags_made,
    items_made,
    job_promised,
    job_quoted,
    tick,
    whole_spec,
)
from tests.quoting.quotes.sending import send

PRICES = ("$", "price", "cost", "margin")


@pytest.fixture
def job(business: Business) -> Job:
    bags_made(items_made())
    return job_promised()


def text_of(pdf: bytes) -> str:
    pages = (page.extract_text() for page in PdfReader(BytesIO(pdf)).pages)
    return " ".join(" ".join(pages).split())


def test_the_sheet_makes_what_the_recipe_needs_and_takes_what_is_held(job: Job):
    sheet = making_sheet(job, now=NOW)
    made = sheet.plan.pieces[0].estimate
    inflated = Counter()
    for step in sheet.plan.steps:
        if step.key.item:
            inflated[step.key.item[1]] += step.target * step.key.balloons
    assert inflated == Counter(
        {c: sum(n.count for n in made.make.needed if n.colour == c) for c in inflated}
    )
    counts = Counter()
    for shown in sheet.steps:
        counts[shown.step.key.work] += shown.step.target
    recipe = made.make
    assert counts["cluster"] == recipe.cluster_count
    assert counts["mini"] == recipe.minis
    assert counts["bunch"] == recipe.accent_bunches
    assert counts["starburst"] == recipe.starbursts
    assert counts["single"] == recipe.singles
    held = {hold.item_id: hold.quantity for hold in holds_open(job)}
    bags = {
        each.bags.item.pk: sum(p.quantity for p in each.bags.next)
        for each in sheet.steps
        if each.bags
    }
    assert bags == held


def test_one_colour_is_made_at_a_time_and_what_is_not_base_comes_apart(job: Job):
    sections = card_sections([making_sheet(job, now=NOW)])
    assert [section.title for section in sections] == [
        "Oat",
        "Fern",
        "Marigold accents",
        "Copper starbursts",
        "Large singles",
    ]
    assert [card.title for card in sections[0].cards] == [
        "11-inch",
        "17-inch",
        "Clusters of 8",
        "5-inch",
        "Mini-clusters",
    ]


def test_a_sheet_is_of_what_the_client_accepted_and_not_of_a_later_draft(business: Business):
    bags_made(items_made())
    quote = job_quoted()
    piece = quote.pieces.get()
    piece.choice = 1
    piece.save()
    wider = whole_spec(path={"kind": "arch", "width_m": 4, "height_m": 2.4})
    other = PieceFactory(quote=quote, choice=1, variant=2, counts=False, spec=wider)
    edition = send(quote)
    assert plan_for(quote.job).source == f"{quote.number}, edition 1"
    ClientAnswer.objects.create(
        edition=edition,
        kind="accepted",
        typed_name="Ada Brannigan",
        chosen={"1": other.pk},
        at=NOW,
        timezone="America/New_York",
        pdf_sha256=edition.pdf_sha256,
        outcome="held",
    )
    piece.spec = whole_spec(base=[{"colour": "fern", "share": 1.0}])
    piece.save()
    plan = plan_for(quote.job)
    assert [each.pk for each in plan.pieces] == [other.pk]
    assert plan.pieces[0].estimate.spec.path.width_m == 4
    assert plan.source == f"{quote.number}, edition 1, as accepted"


def test_without_one_quote_that_is_meant_the_sheet_says_what_is_missing(business: Business):
    job = JobFactory()
    assert plan_for(job).problems == (NO_QUOTE,)
    for _ in range(2):
        PieceFactory(quote=QuoteFactory(job=job), spec=None)
    assert plan_for(job).problems == (WHICH_QUOTE,)
    job.quotes.first().delete()
    assert "not described yet" in plan_for(job).problems[0]


def test_a_sheet_asks_the_database_as_much_for_two_pieces_as_for_one(
    job: Job, django_assert_max_num_queries
):
    PieceFactory(quote=job.quotes.get(), title="A second arch", spec=whole_spec())
    with django_assert_max_num_queries(20):
        sheet = making_sheet(job, now=NOW)
    assert len(sheet.plan.pieces) == 2
    cards = card_sections([sheet])[0].cards
    assert [name for name, _ in cards[0].named_shares] == ["Garland over the door", "A second arch"]


def test_counts_are_shared_out_to_the_first_that_is_not_done():
    # (target, count) of each share, and what is pressed
    assert shared_out(10, [(6, 0), (6, 1)]) == [6, 4]
    assert shared_out(10, [(6, 6), (6, 6)]) == [0, 10]
    assert shared_out(-4, [(6, 6), (6, 3)]) == [-1, -3]
    assert shared_out(-4, [(6, 1), (6, 0)]) == [-1, 0]


def test_the_pace_is_of_the_clock_where_one_ran_and_else_of_the_counts(job: Job):
    plan = plan_for(job)
    oat = next(step for step in plan.steps if step.name.endswith("base:oat:11"))
    counts = {oat.name: 36}  # 36 × 12 s = 7 min 12 s by the card
    moments = [NOW + timedelta(minutes=n) for n in (0, 4, 9, 40, 45)]  # 14 min at work, one break
    by_counts = pace_of(plan, counts, times=[], ticked_at=moments, now=NOW)
    assert by_counts.factor == pytest.approx(14 * 60 / 432)
    clock = WorkTime(
        job=job,
        phase="inflate and tie",
        started_at=NOW - timedelta(minutes=9),
        people=2,
    )
    by_clock = pace_of(plan, counts, times=[clock], ticked_at=moments, now=NOW)
    assert by_clock.factor == pytest.approx(18 * 60 / 432)
    left_s = (by_clock.total_s - 432) * by_clock.factor / 2
    assert by_clock.finish_at(NOW) == NOW + timedelta(seconds=left_s)
    begun = Pace(done_s=36, total_s=432, worked_s=200, people=1)
    assert begun.factor == 1


def test_clocks_may_be_told_out_of_order_and_twice(job: Job):
    key = "00000000-0000-4000-8000-000000000001"
    begun = (NOW - timedelta(minutes=30)).isoformat()
    start = {"key": key, "phase": "pack", "people": 2, "started_at": begun}
    stop = {**start, "stopped_at": NOW.isoformat()}
    for told in (stop, start, stop):
        told_take(job=job, told=Told(work=(told,)), by=None, now=NOW)
    clock = WorkTime.objects.get()
    assert (clock.minutes, clock.person_minutes) == (30, 60)


def test_a_clock_left_running_is_not_believed_until_it_is_typed(job: Job):
    begun = NOW - timedelta(hours=31)
    worked = {"key": "0" * 32, "phase": "pack", "people": 1, "started_at": begun.isoformat()}
    told_take(job=job, told=Told(work=(worked,)), by=None, now=NOW)
    stop = {**worked, "stopped_at": NOW.isoformat()}
    told_take(job=job, told=Told(work=(stop,)), by=None, now=NOW)
    clock = making_sheet(job, now=NOW).clocks[-1]
    assert (clock.phase, clock.person_minutes, len(clock.to_type)) == ("pack", 0, 1)
    work_type(job=job, phase="pack", on=begun.date(), minutes=90, people=1, by=None)
    assert person_minutes(job.work_times.all(), now=NOW) == 90
    with pytest.raises(IntegrityError), transaction.atomic():
        WorkTime.objects.create(
            job=job, phase="pack", started_at=begun, stopped_at=NOW, minutes=400 * 60
        )


def test_the_sheet_and_the_labels_on_paper_say_all_and_no_price(job: Job, business: Business):
    ticks_take(job=job, ticks=[tick("pack:1")], by=None, now=NOW)
    PackedBag.objects.filter(number=1).update(
        contents={"what": ["3 clusters: 3 plum"], "where": "as it was then", "of": 6}
    )
    sheet = making_sheet(job, now=NOW)
    paper = text_of(sheet_pdf(sheet, business=business, now=NOW))
    for words in ("Reading-week arch", "Clusters of 8", "lot A1", "Hand pump only", "Packing"):
        assert words in paper
    labels = bag_labels(sheet)
    assert [label.number for label in labels] == list(range(len(sheet.loads), 0, -1))
    assert labels[-1].what == ["3 clusters: 3 plum"]
    tied = text_of(labels_pdf(sheet, business=business))
    assert "Open this one first" in tied and "as it was then" in tied
    for word in PRICES:
        assert word not in (paper + tied).lower()
