from datetime import date

import pytest

from decor.models import Job
from decor.models.job import Stage
from inventory.holds.service import holds_open
from inventory.ledger.service import bag_throw_away
from inventory.models import Item, Need, SupplierBag
from tests.factories import PieceFactory, QuoteFactory, SupplierFactory
from tests.quoting.covering.conftest import NOW, stock

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def today_is_the_13th(time_machine):
    time_machine.move_to(NOW)


@pytest.fixture
def short_quote(quote):
    """Everything is there but 11-inch oat."""
    stock()
    oat = Item.objects.get(colour__key="oat", nominal_in=11)
    for bag in oat.bags.all():
        bag_throw_away(bag=bag, why="damp", by=None, now=NOW)
    return quote


def read(browser, address: str) -> str:
    return browser.get(address).content.decode()


def test_the_quote_and_its_sending_page_say_whether_the_job_can_be_taken(
    owner_client, short_quote, quote
):
    for address in (f"/quotes/{quote.pk}/", f"/quotes/{quote.pk}/send/"):
        page = read(owner_client, address)
        assert "Can I take this job?" in page
        assert "Oat 11-inch" in page and "Short by" in page
    stock()
    assert "Covered: everything is on the shelf." in read(owner_client, f"/quotes/{quote.pk}/")


def test_without_a_supplier_the_owner_says_when_and_nothing_is_lost(owner_client, short_quote):
    page = read(owner_client, f"/quotes/{short_quote.pk}/covering/")
    assert "Put the rest on the buy list" in page and "Promise it" not in page
    address, name = f"/quotes/{short_quote.pk}/covering/buy/", "arrives_on"
    for wrong, said in (("", "Choose a day."), ("2026-06-01", "That day has gone")):
        refused = owner_client.post(address, {name: wrong})
        assert refused.status_code == 422
        assert said in refused.content.decode()
    assert not Need.objects.exists()
    owner_client.post(address, {name: "2026-06-18"})
    assert Need.objects.get().arrives_on == date(2026, 6, 18)
    assert "Promise it anyway" in read(owner_client, f"/quotes/{short_quote.pk}/covering/")
    owner_client.post(f"/quotes/{short_quote.pk}/promise/")
    assert Job.objects.get(pk=short_quote.job_id).stage == Stage.PROMISED


def test_with_a_supplier_one_press_puts_the_rest_on_the_buy_list(owner_client, short_quote):
    oat = Item.objects.get(colour__key="oat", nominal_in=11)
    supplier = SupplierFactory(lead_days=3)
    SupplierBag.objects.create(supplier=supplier, item=oat, bag_count=100, bag_cents=1650)
    owner_client.post(f"/quotes/{short_quote.pk}/covering/buy/")
    assert Need.objects.get().supplier == supplier
    page = read(owner_client, f"/quotes/{short_quote.pk}/covering/")
    assert "On the buy list" in page and "Promise it anyway" in page


def test_a_promise_that_cannot_be_kept_says_so_and_moves_nothing(owner_client, short_quote):
    page = owner_client.post(f"/quotes/{short_quote.pk}/promise/", follow=True)
    assert "Not enough is free" in page.content.decode()
    assert Job.objects.get(pk=short_quote.job_id).stage == Stage.QUOTED
    assert not holds_open(short_quote.job).exists()


def test_a_plain_move_of_the_job_says_so_too(owner_client, short_quote):
    address = f"/jobs/{short_quote.job_id}/move/"
    page = owner_client.post(address, {"to": "promised", "reason": "Yes"}, follow=True)
    assert "Not enough is free" in page.content.decode()


def test_the_jobs_next_step_leads_to_the_question(owner_client, quote):
    assert f"/jobs/{quote.job_id}/promise/" in read(owner_client, f"/jobs/{quote.job_id}/")
    answered = owner_client.get(f"/jobs/{quote.job_id}/promise/")
    assert answered.headers["Location"] == f"/quotes/{quote.pk}/covering/"


def test_of_several_quotes_the_owner_chooses_and_without_one_nothing_is_held(owner_client, quote):
    second = QuoteFactory(job=quote.job, rate_card=quote.rate_card)
    PieceFactory(quote=second)
    page = read(owner_client, f"/jobs/{quote.job_id}/promise/")
    assert f"/quotes/{quote.pk}/covering/" in page and f"/quotes/{second.pk}/covering/" in page
    for each in (quote, second):
        each.pieces.all().delete()
    assert "Nothing is quoted yet" in read(owner_client, f"/jobs/{quote.job_id}/promise/")


@pytest.mark.parametrize(
    ("day", "said"), [(None, "has no date yet"), (date(2026, 6, 1), "has gone")]
)
def test_without_a_day_to_come_there_is_no_answer(owner_client, quote, day, said):
    Job.objects.update(event_on=day)
    assert said in read(owner_client, f"/quotes/{quote.pk}/covering/")
    assert owner_client.post(f"/quotes/{quote.pk}/covering/buy/").status_code == 302


def test_a_promised_job_that_changed_can_be_held_anew_where_that_is_free(owner_client, quote):
    stock()
    address = f"/quotes/{quote.pk}/covering/"
    owner_client.post(f"/quotes/{quote.pk}/promise/")
    assert "Hold what it takes now" not in read(owner_client, address)
    Job.objects.update(event_on=date(2026, 6, 25))
    assert "Hold what it takes now" in read(owner_client, address)
    owner_client.post(f"/quotes/{quote.pk}/hold/")
    assert set(holds_open(quote.job).values_list("needed_on", flat=True)) == {date(2026, 6, 24)}
    assert "Hold what it takes now" not in read(owner_client, address)
    for _ in range(40):
        PieceFactory(quote=quote)
    held = set(holds_open(quote.job).values_list("item", "quantity"))
    page = owner_client.post(f"/quotes/{quote.pk}/hold/", follow=True).content.decode()
    assert "Not enough is free" in page
    assert set(holds_open(quote.job).values_list("item", "quantity")) == held


def test_a_job_that_is_not_promised_is_not_held_by_hand(owner_client, quote):
    stock()
    owner_client.post(f"/quotes/{quote.pk}/hold/")
    assert not holds_open(quote.job).exists()
