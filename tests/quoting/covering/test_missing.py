"""What is missing: bought whole, in the cheapest bags, or in another colour. Kit that is out."""

from datetime import date, timedelta

import pytest

from inventory.buying.service import buy_list
from inventory.kit.service import kit_hold, kit_save
from inventory.ledger.service import bag_throw_away
from inventory.models import Colour, Item, Kit, Need, SupplierBag
from quoting.covering.answer import can_take
from quoting.covering.demand import quote_demand
from quoting.covering.short_lines import short_lines
from quoting.models import Edition, Quote
from quoting.pieces.service import piece_add, piece_type
from quoting.pieces.surroundings import surroundings_of
from quoting.quotes.pricing import quote_priced
from quoting.quotes.service import quote_send
from tests.factories import JobFactory, SupplierFactory
from tests.quoting.covering.conftest import NOW, stock

pytestmark = pytest.mark.django_db
TODAY = date(2026, 6, 13)
ARCH = {
    "shape": "walk_arch", "arch_width": "9 ft", "arch_height": "8 ft", "fullness": "full",
    "base": ["oat", "fern"], "share_oat": "70", "accents": ["marigold"], "pattern": "banded",
    "colour_order": "Oat, Fern", "filler_colours": ["oat"], "height": "9 ft",
}  # fmt: skip


@pytest.fixture(autouse=True)
def today_is_the_13th(time_machine):
    time_machine.move_to(NOW)


@pytest.fixture
def arch(quote, business):
    """In place of the quote's own piece one that was typed."""
    quote.pieces.all().delete()
    piece = piece_add(quote=quote, title="Arch")
    surroundings = surroundings_of(quote, business=business, today=TODAY)
    typed = {"title": "Arch", **ARCH}
    result = piece_type(piece=piece, typed=typed, surroundings=surroundings)
    assert result.reading.is_possible
    return result.piece


@pytest.fixture
def no_oat():
    """Of the usual size; everything else is there."""
    stock(8)
    for bag in Item.objects.get(colour__key="oat", nominal_in=11).bags.all():
        bag_throw_away(bag=bag, why="damp", by=None, now=NOW)


def answer_of(quote):
    return can_take(quote_priced(Quote.objects.get(pk=quote.pk), today=TODAY), today=TODAY)


def test_with_nothing_on_the_shelf_one_day_answers_for_all_of_it(owner_client, quote):
    address = f"/quotes/{quote.pk}/covering/"
    page = owner_client.get(address).text
    things = len(answer_of(quote).short)
    assert things > 3
    assert f"Nothing is on the shelf yet, so all {things} things that this job takes" in page
    assert "Enter what you have" in page and "/shelf/deliveries/new/" in page
    assert "Short of" not in page and "note-bad" not in page
    assert page.count('type="date"') == 1
    assert "shelf is empty" in owner_client.get(f"/quotes/{quote.pk}/").text

    assert owner_client.post(f"{address}buy/", {"arrives_on": ""}).status_code == 422
    owner_client.post(f"{address}buy/", {"arrives_on": "2026-06-19"})  # the making day itself
    assert Need.objects.count() == things
    assert "That is too late" in owner_client.get(address).text
    assert not answer_of(quote).can_promise

    Need.objects.all().delete()
    owner_client.post(f"{address}buy/", {"arrives_on": "2026-06-18"})
    assert answer_of(quote).can_promise
    assert "Promise it anyway" in owner_client.get(address).text


def test_the_bags_named_are_those_of_the_buy_list(owner_client, quote, no_oat):
    oat = Item.objects.get(colour__key="oat", nominal_in=11)
    near, far = SupplierFactory(lead_days=2, name="Near"), SupplierFactory(lead_days=4, name="Far")
    for supplier, count, cents in ((near, 100, 1650), (far, 72, 900), (far, 25, 400)):
        SupplierBag.objects.create(supplier=supplier, item=oat, bag_count=count, bag_cents=cents)
    named = short_lines(answer_of(quote), today=TODAY)
    assert [each.line.item for each in named] == [oat]
    owner_client.post(f"/quotes/{quote.pk}/covering/buy/")
    listed = buy_list(until_on=TODAY + timedelta(days=30), today=TODAY)
    bought = {(o.supplier, b) for o in listed.orders for line in o.lines for b in line.bags}
    assert {(each.supplier, each.bags) for each in named[0].bags} == bought
    assert {supplier.name for supplier, _ in bought} == {"Far"}
    page = " ".join(owner_client.get(f"/quotes/{quote.pk}/covering/").text.split())
    for _, bags in bought:
        many = f"{bags.bags} bag{'' if bags.bags == 1 else 's'} of {bags.bag_count}"
        assert f"{many} from Far, here by Wednesday 17 June 2026 if ordered today" in page


def test_one_press_takes_a_near_colour_and_keeps_its_shares(
    owner_client, owner, quote, arch, no_oat
):
    quote_send(quote=Quote.objects.get(pk=quote.pk), by=owner, now=NOW)
    oat, other = (
        Item.objects.get(colour__key="oat", nominal_in=11),
        short_lines(answer_of(quote), today=TODAY)[0].substitutes[0],
    )
    assert other.can_swap
    key, name = other.found.item.colour.key, other.found.item.colour.name
    swap = f"/quotes/{quote.pk}/covering/swap/{oat.pk}/{other.found.item.pk}/"
    assert f'formaction="{swap}"' in owner_client.get(f"/quotes/{quote.pk}/covering/").text

    said = owner_client.post(swap, follow=True).text

    assert f"{name} is in the place of Oat in “Arch”" in said
    arch.refresh_from_db()
    assert arch.typed["base"] == [key, "fern"] and arch.typed["filler_colours"] == [key]
    assert arch.typed[f"share_{key}"] == "70" and "share_oat" not in arch.typed
    assert arch.typed["colour_order"] == f"{name}, Fern"
    assert arch.typed["accents"] == ["marigold"] and not arch.spec_is_behind
    assert "oat" not in {i.colour.key for i in answer_of(quote).demand.items.values() if i.colour}
    assert Edition.objects.count() == 1 and Quote.objects.get(pk=quote.pk).stage == "changed"
    assert "Nothing was changed" in owner_client.post(swap, follow=True).text


def test_a_colour_that_the_piece_has_beside_it_already_is_not_put_in_by_one_press(
    owner_client, quote, arch, no_oat
):
    oat = Item.objects.get(colour__key="oat", nominal_in=11)
    Colour.objects.exclude(key__in=["oat", "fern"]).update(archived_at=NOW)
    stock(20, colour__key="fern")
    offered = short_lines(answer_of(quote), today=TODAY)[0].substitutes
    assert [(each.found.item.colour.key, each.can_swap) for each in offered] == [("fern", False)]
    address = f"/quotes/{quote.pk}/covering/swap/{oat.pk}/{offered[0].found.item.pk}/"
    assert "Nothing was changed" in owner_client.post(address, follow=True).text


def test_kit_that_is_out_is_said_in_the_answer(owner_client, quote, arch):
    stock(20)
    day = quote.job.event_on
    days = {"from_on": day, "until_on": day}
    stand = kit_save(kit=Kit(name="Ring stand", kind="stand", count=2), today=TODAY)
    ladder = kit_save(kit=Kit(name="Tall ladder", kind="ladder", count=1), today=TODAY)
    other = JobFactory(title="Regatta arch", stage="promised")
    assert answer_of(quote).kit_notes == ()

    kit_hold(job=other, kit=ladder, quantity=1, now=NOW, **days)
    kit_hold(job=quote.job, kit=stand, quantity=2, now=NOW, **days)
    Kit.objects.filter(pk=stand.pk).update(count=1)  # one broke
    answer = answer_of(quote)
    out, no_ladder = answer.kit_notes
    assert out.startswith("Ring stand: 1 of 1 can be had on Saturday 20 June 2026")
    assert no_ladder.startswith("It needs a ladder") and no_ladder.endswith("“Regatta arch”.")
    page = owner_client.get(f"/quotes/{quote.pk}/").text
    assert "Covered: everything is on the shelf. Ring stand: 1 of 1" in page
    assert can_take(quote_priced(quote, today=TODAY), today=TODAY).demand == quote_demand(
        quote_priced(quote, today=TODAY)
    )

    quote.job.event_on = day + timedelta(days=3)
    quote.job.save()
    assert "but the job is on Tuesday 23 June 2026" in answer_of(quote).kit_notes[0]
