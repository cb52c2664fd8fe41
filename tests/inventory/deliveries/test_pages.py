"""Entering a delivery, row by row or from a file."""

import uuid
from datetime import date

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from inventory.buying.arriving import bags_come
from inventory.buying.orders import OrderRow, order_place
from inventory.deliveries.forms import NO_FILE, NOT_YET, ROWS_MISSING, SUPPLIER_MISSING
from inventory.deliveries.rows import COLUMNS, DeliveryRow
from inventory.free.service import free_on
from inventory.models import Bag, Delivery, SupplierBag
from tests.factories import BagFactory, SupplierFactory
from tests.inventory.asking import queries_of

NEW, CSV = reverse("delivery_new"), reverse("delivery_csv")
SOUND = "item;count;cost\nfern 11;100;16,50\nplum 5;50;8,00\n"


def head(supplier, /, **given) -> dict[str, str]:
    return {
        "supplier": str(supplier.pk),
        "note_number": "N-7",
        "received_on": "2026-06-12",
        "entry_key": str(uuid.uuid4()),
        **given,
    }


def typed(supplier, /, *rows: dict[str, str], **given) -> dict:
    blank = dict.fromkeys(COLUMNS, "")
    cells = [{**blank, **row} for row in (*rows, {}, {})]
    return head(supplier, **given) | {name: [row[name] for row in cells] for name in COLUMNS}


@pytest.fixture(autouse=True)
def in_june(time_machine):
    time_machine.move_to("2026-06-13T15:00Z")


def test_rows_become_bags_and_the_page_leads_to_them(owner_client, supplier, items):
    data = typed(
        supplier,
        {"item": "fern 11", "bags": "3", "place": "Box 3", "lot": "B2"},
        {"item": "plum 5", "count": "50", "cost": "8,00"},
    )

    reply = owner_client.post(NEW, data, follow=True)

    assert reply.redirect_chain[0][0] == reverse(
        "delivery_detail", args=[Delivery.objects.get().pk]
    )
    assert Bag.objects.filter(place="Box 3").count() == 4
    assert "4 bags are on the shelf." in reply.text
    assert Bag.objects.filter(lines__by__username="nell").count() == 4


def test_without_scripts_there_are_blank_rows_enough_for_twenty_bags(owner_client, supplier, items):
    page = owner_client.get(NEW).text
    assert page.count('name="item"') == 30
    assert 'list="items-known"' in page and '<option value="Fern 11-inch"' in page


def test_wrong_rows_are_told_in_place_and_nothing_typed_is_lost(owner_client, supplier, items):
    data = typed(
        supplier,
        {"item": "fern 11", "note": "keep <this>"},
        {},
        {"item": "fern", "count": "-5"},
    )

    reply = owner_client.post(NEW, data)

    assert reply.status_code == 422
    assert not Delivery.objects.exists()
    page = reply.text
    assert 'value="keep &lt;this&gt;"' in page and 'value="-5"' in page and 'value="N-7"' in page
    assert 'href="#id_count_3"' in page and 'id="told_count_3"' in page
    assert 'aria-describedby="told_item_3"' in page


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({"supplier": ""}, SUPPLIER_MISSING),
        ({"received_on": "2026-06-14"}, NOT_YET),
        ({"received_on": "soon"}, "Enter a valid date."),
        ({"supplier": "99999999999999999999999"}, "Select a valid choice"),
    ],
)
def test_a_head_that_is_wrong_is_told_beside_its_field(owner_client, supplier, items, given, told):
    reply = owner_client.post(NEW, typed(supplier, {"item": "fern 11"}, **given))

    assert (reply.status_code, told in reply.text) == (422, True)
    assert not Delivery.objects.exists()


def test_a_delivery_of_nothing_is_refused(owner_client, supplier, items):
    reply = owner_client.post(NEW, typed(supplier, {"place": "Box 3"}))
    assert ROWS_MISSING in reply.text and not Delivery.objects.exists()


def test_a_delivery_entered_twice_is_refused_and_leads_to_the_first(owner_client, supplier, items):
    owner_client.post(NEW, typed(supplier, {"item": "fern 11"}))
    first = Delivery.objects.get()

    reply = owner_client.post(NEW, typed(supplier, {"item": "plum 5"}, note_number="n-7"))

    assert reply.status_code == 422
    assert "This delivery was entered before, as received on 12 June 2026." in reply.text
    assert reverse("delivery_detail", args=[first.pk]) in reply.text
    assert Bag.objects.count() == 1


def test_a_form_sent_twice_is_entered_once(owner_client, supplier, items):
    data = typed(supplier, {"item": "fern 11"}, note_number="")
    owner_client.post(NEW, data)
    assert owner_client.post(NEW, data).status_code == 422
    assert Bag.objects.count() == 1


def test_the_supplier_comes_first(owner_client, items):
    for address in (NEW, CSV):
        page = owner_client.get(address).text
        assert "Who sells you balloons?" in page and reverse("supplier_new") in page


def test_a_file_is_shown_before_anything_is_written(owner_client, supplier, items):
    file = SimpleUploadedFile("came.csv", b"\xef\xbb\xbf" + SOUND.encode())

    shown = owner_client.post(CSV, head(supplier, check="yes", file=file))

    assert shown.status_code == 200
    assert "2 rows, 2 bags: all is well" in shown.text
    assert "fern 11;100;16,50" in shown.text
    assert not Delivery.objects.exists()

    text = shown.context["form"]["text"].value()
    entered = owner_client.post(CSV, head(supplier, enter="yes", text=text))
    assert entered.status_code == 302
    assert sorted(Bag.objects.values_list("cost_cents", flat=True)) == [800, 1650]


@pytest.mark.parametrize("button", ["check", "enter"])
def test_a_file_with_a_wrong_row_is_never_entered(owner_client, supplier, items, button):
    data = head(supplier, text=SOUND + "=cmd;1;1\n", **{button: "yes"})

    reply = owner_client.post(CSV, data)

    assert reply.status_code == 422
    assert "1 of 3 rows need mending" in reply.text and "Line 4" in reply.text
    assert 'name="enter"' not in reply.text
    assert not Delivery.objects.exists()


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ({}, NO_FILE),
        ({"text": "a;b\n1;2\n"}, "one of them must be “item”"),
        ({"text": "item\n" + "fern 5\n" * 10_000}, "This file has 10,000 rows."),
        ({"text": "item\n" + "x" * 1_100_000}, "larger than 1 MB"),
    ],
)
def test_a_file_that_cannot_be_read_says_why(owner_client, supplier, items, given, told):
    reply = owner_client.post(CSV, head(supplier, check="yes", **given))
    assert (reply.status_code, told in reply.text) == (422, True)
    assert not Delivery.objects.exists()


def test_a_file_in_another_encoding_says_what_to_do(owner_client, supplier, items):
    file = SimpleUploadedFile("came.csv", "item\nfougère".encode("utf-16"))
    reply = owner_client.post(CSV, head(supplier, check="yes", file=file))
    assert (reply.status_code, "CSV UTF-8" in reply.text) == (422, True)


def test_a_file_that_was_entered_before_is_refused(owner_client, supplier, items):
    for _ in range(2):
        reply = owner_client.post(CSV, head(supplier, enter="yes", text=SOUND))
    assert reply.status_code == 422
    assert "entered before" in reply.text
    assert Bag.objects.count() == 2


def test_ten_hundred_rows_are_shown_and_entered(owner_client, supplier, items):
    text = "item\n" + "fern 5\n" * 1000
    assert "1000 rows, 1000 bags" in owner_client.post(CSV, head(supplier, text=text)).text
    owner_client.post(CSV, head(supplier, text=text, enter="yes"))
    assert Bag.objects.count() == 1000
    assert SupplierBag.objects.count() == 1


@pytest.fixture
def order(supplier, items):
    """Three bags of a hundred of fern, one of fifty of plum."""
    rows = [
        OrderRow(items["Fern 11-inch"], 100, 3, 1650),
        OrderRow(items["Plum 5-inch"], 50, 1, 800),
    ]
    days = {"ordered_on": date(2026, 6, 8), "expected_on": date(2026, 6, 12)}
    return order_place(supplier=supplier, rows=rows, delivery_cents=0, by=None, **days)


def counted(item) -> int:
    """What could be promised for a day by which everything on order has come."""
    free = free_on(on=date(2026, 6, 20), today=date(2026, 6, 13), items=[item.pk])
    return free[item.pk].promisable


def test_what_came_of_an_order_is_not_counted_twice(owner_client, supplier, items, order):
    fern, plum = items["Fern 11-inch"], items["Plum 5-inch"]
    data = typed(supplier, {"item": "fern 11", "count": "100", "bags": "2"})
    assert (
        "ordered Monday 8 June 2026. To come: 3 bags of Fern 11-inch" in owner_client.get(NEW).text
    )

    asked = owner_client.post(NEW, data)
    assert asked.status_code == 422 and "Is this the order of Monday 8 June 2026?" in asked.text
    assert 'value="fern 11"' in asked.text and not Bag.objects.exists()
    told = owner_client.post(NEW, {**data, "order": order.pk}, follow=True).text
    assert "2 bags are on the shelf. 2 bags are still expected of the order." in told
    assert counted(fern) == 300

    text = "item;count;bags\nfern 11;50;2\nplum 5;50;1\n"
    file = head(supplier, note_number="N-8", text=text, enter="yes")
    assert "Is this the order of" in owner_client.post(CSV, file).text
    told = owner_client.post(CSV, {**file, "order": order.pk}, follow=True).text
    assert "Everything of the order has come." in told
    assert (counted(fern), counted(plum)) == (300, 50)
    order.refresh_from_db()
    assert order.state == "received" and order.deliveries.count() == 2


def test_what_was_not_ordered_leaves_the_order_as_it_was(owner_client, supplier, items, order):
    fern = typed(supplier, {"item": "fern 11", "bags": "2"})
    other = SupplierFactory(name="Millbrook")
    refused = owner_client.post(NEW, {**fern, "supplier": other.pk, "order": order.pk})
    assert f"That was ordered from {supplier}" in refused.text
    refused = owner_client.post(
        NEW, typed(supplier, {"item": "plum 11"}, order=order.pk, note_number="N-9")
    )
    assert "None of these rows is still expected of this order." in refused.text
    owner_client.post(NEW, typed(supplier, {"item": "plum 11"}))
    owner_client.post(NEW, {**fern, "note_number": "N-10", "order": "none"})
    assert Bag.objects.count() == 3
    assert set(order.lines.values_list("received_bags", flat=True)) == {0}
    assert not Delivery.objects.exclude(order=None).exists()


def test_a_part_of_a_bag_that_came_is_taken_as_one(supplier, items, order):
    """Rather too little is expected than too much."""
    fern = items["Fern 11-inch"]

    def come(*bags: tuple[int, int]) -> int:
        rows = [DeliveryRow(item=fern, printed_count=c, cost_cents=0, bags=b) for c, b in bags]
        return bags_come(order.lines.all(), rows).total()

    assert come((100, 2)) == 2
    assert come((100, 9)) == 3
    assert come((25, 1)) == 1
    assert come((25, 5), (100, 1)) == 3
    assert come((500, 1)) == 3


def test_lists_cost_the_same_however_long(owner_client, items):
    bag = BagFactory(item=items["Fern 11-inch"])
    pages = [reverse("delivery_list"), reverse("delivery_detail", args=[bag.delivery_id])]
    few = [queries_of(owner_client, page) for page in pages]
    for _ in range(10):
        BagFactory(item=bag.item, delivery=bag.delivery)
        BagFactory(item=bag.item)
    assert [queries_of(owner_client, page) for page in pages] == few
