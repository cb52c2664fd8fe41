import csv
import io
import uuid
from datetime import UTC, datetime, timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from inventory.buying import forms
from inventory.buying.orders import NOTHING_CAME, NOTHING_ORDERED
from inventory.models import Bag, Order, OrderLine, SupplierBag
from inventory.models.order import OrderState
from tests.factories import ColourFactory, ItemFactory, JobFactory

PAGE = reverse("buy_list")


@pytest.fixture(autouse=True)
def saturday(time_machine):
    time_machine.move_to(datetime(2026, 6, 13, 12, tzinfo=UTC), tick=False)


@pytest.fixture
def short(fern, quay, held):
    """Fern: 80 are held, none is there; the quay sells bags of 100."""
    SupplierBag.objects.create(supplier=quay, item=fern, bag_count=100, bag_cents=4100)
    return held(fern, 80, job=JobFactory(title="Reading-week arch"))


@pytest.fixture
def order(quay, fern, today):
    order = Order.objects.create(
        supplier=quay, ordered_on=today, expected_on=today + timedelta(days=5), delivery_cents=895
    )
    OrderLine.objects.create(order=order, item=fern, bag_count=50, bags=3, bag_cents=850)
    return order


def order_lines(*lines, initial=1):
    said = {"line-TOTAL_FORMS": str(len(lines)), "line-INITIAL_FORMS": str(initial)}
    for at, line in enumerate(lines):
        said |= {f"line-{at}-{name}": str(value) for name, value in line.items()}
    return said


def head(supplier, **given):
    said = {
        "supplier": supplier.pk,
        "ordered_on": "2026-06-13",
        "expected_on": "2026-06-18",
        "delivery": "8.95",
        "entry_key": uuid.uuid4(),
    }
    return {**said, **given}


def test_nothing_short_is_said(owner_client):
    assert "Nothing is short" in owner_client.get(PAGE).text


def test_the_list_says_from_whom_how_many_until_when_and_for_which_job(owner_client, short):
    page = owner_client.get(PAGE).text
    for said in (
        "Quayside Balloon Supply",
        "1 bag of",
        "20",
        "left over",
        "Order by Friday 26 June: arrives Wednesday 1 July, needed Friday 3 July.",
        "Reading-week arch",
        "$49.95",
    ):
        assert said in page
    assert f"{reverse('order_new')}?supplier={short.item.bags_offered.get().supplier_id}" in page


@pytest.mark.parametrize("days", ["14", "", "x", "-1", "9" * 30])
def test_days_that_are_not_offered_are_the_usual(owner_client, short, days):
    page = owner_client.get(PAGE, {"days": days}).text
    assert ("Nothing is short" in page) == (days == "14")


def test_the_shelf_leads_to_it(owner_client):
    assert PAGE in owner_client.get(reverse("shelf")).text


def test_the_page_asks_no_more_for_a_longer_list(owner_client, short, quay, held):
    def asked():
        with CaptureQueriesContext(connection) as queries:
            assert owner_client.get(PAGE).status_code == 200
        return len(queries)

    owner_client.get(PAGE)
    few = asked()
    for key in ("oat", "plum", "copper"):
        item = ItemFactory(colour=ColourFactory(key=key))
        SupplierBag.objects.create(supplier=quay, item=item, bag_count=100, bag_cents=1450)
        held(item, 80)
        held(item, 30)
    assert asked() == few


def test_the_csv_has_a_row_for_each_sort_of_bag_and_one_for_delivery(owner_client, short):
    reply = owner_client.get(reverse("buy_list_csv"))
    assert reply["Content-Disposition"] == 'attachment; filename="buy-list-2026-06-13.csv"'
    rows = list(csv.DictReader(io.StringIO(reply.content.decode("utf-8-sig"))))
    assert [(r["supplier"], r["item"], r["bags"], r["price"], r["left over"]) for r in rows] == [
        ("Quayside Balloon Supply", "Fern 11-inch", "1", "41.00", "20"),
        ("Quayside Balloon Supply", "delivery", "", "8.95", ""),
    ]
    assert (rows[0]["order by"], rows[0]["needed on"]) == ("2026-06-26", "2026-07-03")


def test_formulas_leave_the_csv_as_text(owner_client, short):
    short.job.title = '=HYPERLINK("http://bad.example")'
    short.job.save()
    text = owner_client.get(reverse("buy_list_csv")).content.decode("utf-8-sig")
    (row, _) = csv.DictReader(io.StringIO(text))
    assert row["for"] == "'" + short.job.title


def test_marking_as_ordered_begins_with_what_the_list_says(owner_client, short, quay):
    page = owner_client.get(reverse("order_new"), {"supplier": quay.pk}).text
    assert 'value="41.00"' in page
    assert 'value="8.95"' in page
    assert 'value="2026-06-18"' in page


def test_what_is_marked_as_ordered_leaves_the_list(owner_client, short, quay, fern):
    line = {"item": fern.pk, "bags": 2, "bag_count": 50, "price": "9.00"}
    reply = owner_client.post(reverse("order_new"), head(quay) | order_lines(line), follow=True)
    assert "Ordered from Quayside Balloon Supply" in reply.text
    order = Order.objects.get()
    assert (order.delivery_cents, order.lines.get().bags) == (895, 2)
    assert order.by.username == "nell"
    assert "Nothing is short" in owner_client.get(PAGE).text


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ({"bags": "two", "bag_count": 50, "price": "9"}, forms.BAGS_HOW_MANY),
        ({"bags": 2, "bag_count": "", "price": "9"}, forms.COUNT_HOW_MANY),
        ({"bags": 2, "bag_count": 50, "price": ""}, forms.PRICE_MISSING),
        ({"bags": 0, "bag_count": 50, "price": "9"}, NOTHING_ORDERED),
        ({"bags": -1, "bag_count": 50, "price": "9"}, "greater than or equal to 0"),
    ],
)
def test_what_is_wrong_is_said_and_what_was_typed_stays(
    owner_client, short, quay, fern, line, told
):
    said = head(quay, note="Asked for lot B7") | order_lines({"item": fern.pk, **line})
    reply = owner_client.post(reverse("order_new"), said)
    assert reply.status_code == 422
    assert told in reply.text
    assert "Asked for lot B7" in reply.text
    assert "Nothing is marked as ordered yet." in reply.text
    assert not Order.objects.exists()


def test_it_cannot_come_before_it_is_ordered(owner_client, quay, fern):
    line = {"item": fern.pk, "bags": 2, "bag_count": 50, "price": "9.00"}
    said = head(quay, expected_on="2026-06-12") | order_lines(line)
    assert forms.EXPECTED_BEFORE in owner_client.post(reverse("order_new"), said).text


def test_without_a_supplier_the_page_says_what_to_do_first(owner_client, fern, held):
    held(fern, 80)
    assert reverse("supplier_new") in owner_client.get(reverse("order_new")).text


def test_no_orders_yet(owner_client):
    assert "No orders yet" in owner_client.get(reverse("order_list")).text


def test_orders_are_listed_with_how_late_they_are(owner_client, order, time_machine):
    assert "in 5 days" in owner_client.get(reverse("order_list")).text
    time_machine.move_to(datetime(2026, 6, 20, 12, tzinfo=UTC))
    page = owner_client.get(reverse("order_list")).text
    assert "late" in page
    assert "2 days ago" in page


def test_it_is_received_in_part_then_whole(owner_client, order):
    line = order.lines.get()
    address = reverse("order_receive", args=[order.pk])
    said = {
        "received_on": "2026-06-13",
        "entry_key": uuid.uuid4(),
        f"bags_{line.pk}": 2,
        f"lot_{line.pk}": "B7",
        f"place_{line.pk}": "Cupboard",
    }
    reply = owner_client.post(address, said, follow=True)
    assert "2 bags are on the shelf. The rest is still expected." in reply.text
    assert "2 bags came; 1 still to come" in reply.text
    again = said | {"entry_key": uuid.uuid4(), f"bags_{line.pk}": 1}
    reply = owner_client.post(address, again, follow=True)
    assert "Everything of this order has come." in reply.text
    assert Bag.objects.count() == 3
    assert owner_client.get(address).status_code == 302


def test_a_receipt_sent_twice_is_entered_once(owner_client, order):
    line = order.lines.get()
    said = {"received_on": "2026-06-13", "entry_key": uuid.uuid4(), f"bags_{line.pk}": 1}
    address = reverse("order_receive", args=[order.pk])
    owner_client.post(address, said)
    reply = owner_client.post(address, said)
    assert reply.status_code == 422
    assert "entered before" in reply.text
    assert Bag.objects.count() == 1


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"bags": 0}, NOTHING_CAME),
        ({"bags": 4}, "less than or equal to 3"),
        ({"bags": "x"}, forms.BAGS_HOW_MANY),
        ({"bags": 1, "received_on": "2026-06-14"}, forms.NOT_YET),
        ({"bags": 1, "received_on": ""}, forms.DAY_MISSING),
    ],
)
def test_what_cannot_have_come_is_refused(owner_client, order, given, told):
    line = order.lines.get()
    said = {"received_on": "2026-06-13", "entry_key": uuid.uuid4(), f"lot_{line.pk}": "B7-keep"}
    said |= {f"bags_{line.pk}" if name == "bags" else name: value for name, value in given.items()}
    reply = owner_client.post(reverse("order_receive", args=[order.pk]), said)
    assert reply.status_code == 422
    assert told in reply.text
    assert "B7-keep" in reply.text
    assert not Bag.objects.exists()


def test_another_day_can_be_given(owner_client, order):
    address = reverse("order_expect", args=[order.pk])
    page = owner_client.post(address, {"expected_on": "2026-06-30"}, follow=True).text
    assert "Now expected on Tuesday 30 June" in page
    wrong = owner_client.post(address, {"expected_on": "2026-06-01"})
    assert wrong.status_code == 422
    assert "cannot come before" in wrong.text


def test_calling_off_asks_first_and_says_who_goes_short(owner_client, order, fern, held):
    held(fern, 80, job=JobFactory(title="Porch swag"))
    address = reverse("order_call_off", args=[order.pk])
    page = owner_client.get(address).text
    assert "Without it you are short" in page
    assert "Porch swag" in page
    order.refresh_from_db()
    assert order.state == OrderState.ORDERED
    assert "Called off" in owner_client.post(address, follow=True).text
    assert "called off already" in owner_client.post(address, follow=True).text


def test_a_list_of_orders_asks_no_more_when_it_is_longer(owner_client, order, quay, fern, today):
    def asked():
        with CaptureQueriesContext(connection) as queries:
            owner_client.get(reverse("order_list"))
        return len(queries)

    def more(orders):
        for at in range(orders):
            other = Order.objects.create(
                supplier=quay, ordered_on=today, expected_on=today, state=OrderState.values[at % 3]
            )
            OrderLine.objects.create(order=other, item=fern, bag_count=50, bags=3, bag_cents=850)

    more(3)
    owner_client.get(reverse("order_list"))
    few = asked()
    more(9)
    assert asked() == few


def test_a_form_without_its_lines_is_refused_with_a_page(owner_client, quay):
    reply = owner_client.post(reverse("order_new"), head(quay))
    assert reply.status_code == 422
    assert not Order.objects.exists()
