from datetime import date, timedelta

import pytest

from decor.jobs.stages import MoveRefused, job_move
from decor.models import Job
from decor.models.job import Stage
from inventory.holds.days import making_on
from inventory.holds.service import holds_open
from inventory.models import Hold, Item, KitHold, Need, Order, OrderLine, SupplierBag
from quoting.covering.answer import NO_DAY, Cover, can_take
from quoting.covering.promising import (
    WHICH_QUOTE,
    quote_promise,
    rest_to_buy_list,
)
from quoting.quotes.pricing import quote_priced
from tests.factories import PieceFactory, QuoteFactory, SupplierFactory
from tests.quoting.covering.conftest import NOW, stock

pytestmark = pytest.mark.django_db
MAKING = date(2026, 6, 19)


def answer_of(quote, today):
    return can_take(quote_priced(quote, today=today), today=today)


def oat_11():
    return Item.objects.get(colour__key="oat", nominal_in=11)


@pytest.fixture
def all_but_oat(quote):
    for item in Item.objects.exclude(pk=oat_11().pk):
        stock(pk=item.pk)
    return quote


def test_the_making_day_is_the_day_before_and_never_in_the_past(today):
    assert making_on(today + timedelta(days=7), today=today) == today + timedelta(days=6)
    assert making_on(today, today=today) == today


def test_what_the_shelf_has_is_covered_and_a_promise_holds_it(quote, owner, today):
    stock()
    answer = answer_of(quote, today)
    assert answer.cover == Cover.COVERED and answer.can_promise
    quote_promise(quote=quote, by=owner, now=NOW)
    held = dict(holds_open(quote.job).values_list("item", "quantity"))
    assert held == answer.demand.quantities
    assert set(Hold.objects.values_list("state", "needed_on", "source")) == {
        ("soft", MAKING, "LL-1042")
    }
    assert Job.objects.get(pk=quote.job_id).stage == Stage.PROMISED


def test_the_second_job_is_told_before_it_promises(quote, other_quote, owner, today):
    stock()
    wanted = answer_of(quote, today).demand.quantities[oat_11().pk]
    quote_promise(quote=quote, by=owner, now=NOW)
    Hold.objects.filter(item=oat_11()).update(quantity=500 - wanted + 1)
    (line,) = answer_of(other_quote, today).short
    assert (line.item, line.wanted, line.short) == (oat_11(), wanted, 1)
    with pytest.raises(MoveRefused, match="Not enough is free: 1 more Oat 11-inch"):
        quote_promise(quote=other_quote, by=owner, now=NOW)
    assert not holds_open(other_quote.job).exists()
    assert Job.objects.get(pk=other_quote.job_id).stage == Stage.QUOTED


def test_a_plain_move_to_promised_holds_too_or_is_refused(all_but_oat, owner):
    with pytest.raises(MoveRefused, match="Oat 11-inch"):
        job_move(job=all_but_oat.job, to=Stage.PROMISED, by=owner, reason="Yes", now=NOW)
    assert Job.objects.get(pk=all_but_oat.job_id).stage == Stage.QUOTED
    stock(pk=oat_11().pk)
    job_move(job=all_but_oat.job, to=Stage.PROMISED, by=owner, reason="Yes", now=NOW)
    assert holds_open(all_but_oat.job).filter(item=oat_11()).exists()


def test_a_job_with_several_quotes_is_promised_from_one_of_them(quote, owner):
    stock()
    PieceFactory(quote=QuoteFactory(job=quote.job, rate_card=quote.rate_card))
    with pytest.raises(MoveRefused, match=WHICH_QUOTE):
        job_move(job=quote.job, to=Stage.PROMISED, by=owner, reason="Yes", now=NOW)
    quote_promise(quote=quote, by=owner, now=NOW)
    assert set(holds_open(quote.job).values_list("source", flat=True)) == {"LL-1042"}


def test_a_job_without_a_day_cannot_be_promised(quote, owner):
    stock()
    Job.objects.update(event_on=None)
    quote.job.refresh_from_db()
    with pytest.raises(MoveRefused, match=NO_DAY):
        quote_promise(quote=quote, by=owner, now=NOW)


@pytest.mark.parametrize(
    ("days", "cover"), [(5, Cover.IF_THESE_ARRIVE), (6, Cover.SHORT), (-2, Cover.IF_THESE_ARRIVE)]
)
def test_what_is_on_order_covers_when_it_comes_before_the_making_day(
    all_but_oat, today, days, cover
):
    """The making day is six days off; an order that is late already may come any day."""
    order = Order.objects.create(
        supplier=SupplierFactory(),
        ordered_on=today - timedelta(days=9),
        expected_on=today + timedelta(days=days),
    )
    line = OrderLine.objects.create(
        order=order, item=oat_11(), bag_count=100, bags=9, bag_cents=1650, received_bags=2
    )
    answer = answer_of(all_but_oat, today)
    assert answer.cover == cover
    assert [found for each in answer.arriving for found in each.arrivals] == (
        [line] if cover == Cover.IF_THESE_ARRIVE else []
    )


def test_promise_anyway_needs_a_buy_list_that_comes_in_time(all_but_oat, owner, today):
    quote = all_but_oat
    supplier = SupplierFactory(lead_days=6)
    SupplierBag.objects.create(supplier=supplier, item=oat_11(), bag_count=100, bag_cents=1650)
    rest_to_buy_list(answer_of(quote, today), own_days={}, by=owner, now=NOW)
    assert [line.item for line in answer_of(quote, today).too_late] == [oat_11()]
    with pytest.raises(MoveRefused):
        quote_promise(quote=quote, by=owner, now=NOW)
    supplier.lead_days = 5
    supplier.save()
    assert answer_of(quote, today).can_promise
    quote_promise(quote=quote, by=owner, now=NOW)
    assert holds_open(quote.job).filter(item=oat_11()).exists()


def test_an_acknowledged_buy_list_slips_with_each_day_it_is_not_ordered(all_but_oat, owner, today):
    quote = all_but_oat
    supplier = SupplierFactory(lead_days=5)
    SupplierBag.objects.create(supplier=supplier, item=oat_11(), bag_count=100, bag_cents=1650)
    rest_to_buy_list(answer_of(quote, today), own_days={}, by=owner, now=NOW)
    assert answer_of(quote, today).can_promise
    assert not answer_of(quote, today + timedelta(days=1)).can_promise


def test_a_garland_that_grew_after_the_buy_list_has_to_be_looked_at_again(
    all_but_oat, owner, today
):
    quote = all_but_oat
    days = {oat_11().pk: today + timedelta(days=2)}
    rest_to_buy_list(answer_of(quote, today), own_days=days, by=owner, now=NOW)
    assert answer_of(quote, today).can_promise
    PieceFactory(quote=quote)
    assert not answer_of(quote, today).can_promise


def test_substitutes_are_free_of_the_same_size_and_nearest_first(all_but_oat, today):
    (line,) = answer_of(all_but_oat, today).short
    others = line.substitutes
    assert len(others) == 3
    assert {other.item.nominal_in for other in others} == {11}
    assert [other.delta_e for other in others] == sorted(other.delta_e for other in others)
    assert all(other.free >= line.short for other in others)
    Hold.objects.create(
        job=all_but_oat.job.client.jobs.create(title="Another"),
        item=others[0].item,
        quantity=500 - line.short + 1,
        needed_on=MAKING,
        placed_at=NOW,
    )
    (line,) = answer_of(all_but_oat, today).short
    assert others[0].item not in {other.item for other in line.substitutes}


def test_what_the_quote_takes_of_a_colour_itself_is_no_substitute(all_but_oat, today):
    fern = Item.objects.get(colour__key="fern", nominal_in=11)
    answer = answer_of(all_but_oat, today)
    wanted, (line,) = answer.demand.quantities, answer.short
    Hold.objects.create(
        job=all_but_oat.job.client.jobs.create(title="Another"),
        item=fern,
        quantity=500 - wanted[fern.pk] - line.short + 1,
        needed_on=MAKING,
        placed_at=NOW,
    )
    (line,) = answer_of(all_but_oat, today).short
    free = {other.item for other in line.substitutes}
    assert fern not in free


@pytest.mark.parametrize(
    ("stages", "is_free"),
    [
        ([Stage.CALLED_OFF], True),
        ([Stage.QUOTED], True),
        ([Stage.MADE], False),
        ([Stage.MADE, Stage.UP], True),
    ],
)
def test_holds_end_with_the_job_or_when_it_hangs(quote, owner, stages, is_free):
    stock()
    quote_promise(quote=quote, by=owner, now=NOW)
    for stage in stages:
        job_move(job=quote.job, to=stage, by=owner, reason="The weather", now=NOW)
    assert holds_open(quote.job).exists() != is_free
    assert not KitHold.objects.exists()


@pytest.mark.parametrize("stage", [Stage.LET_GO, Stage.LOST])
def test_what_was_put_on_the_buy_list_goes_with_the_job(all_but_oat, owner, today, stage):
    days = {oat_11().pk: today + timedelta(days=2)}
    rest_to_buy_list(answer_of(all_but_oat, today), own_days=days, by=owner, now=NOW)
    assert Need.objects.exists()
    job_move(job=all_but_oat.job, to=stage, by=owner, reason="No answer", now=NOW)
    assert not Need.objects.exists()


def test_taken_up_again_a_job_holds_what_its_quote_takes_less_what_it_took(quote, owner, today):
    stock()
    quote_promise(quote=quote, by=owner, now=NOW)
    job_move(job=quote.job, to=Stage.CALLED_OFF, by=owner, reason="Storm", now=NOW)
    job_move(job=quote.job, to=Stage.PROMISED, by=owner, reason="New day", now=NOW)
    assert dict(holds_open(quote.job).values_list("item", "quantity")) == (
        answer_of(quote, today).demand.quantities
    )


def test_the_answer_costs_the_same_queries_however_much_there_is(
    quote, today, django_assert_num_queries
):
    stock(1)
    priced = quote_priced(quote, today=today)
    with django_assert_num_queries(7) as few:
        can_take(priced, today=today)
    stock(4)
    others = [quote.job.client.jobs.create(title=f"Job {n}") for n in range(5)]
    Hold.objects.bulk_create(
        Hold(job=job, item=item, quantity=3, needed_on=MAKING, placed_at=NOW)
        for job in others
        for item in Item.objects.all()
    )
    with django_assert_num_queries(len(few.captured_queries)):
        can_take(priced, today=today)
