"""Entering a delivery, row by row or from a file."""

import uuid

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from inventory.deliveries.forms import NO_FILE, NOT_YET, ROWS_MISSING, SUPPLIER_MISSING
from inventory.deliveries.rows import COLUMNS
from inventory.models import Bag, Delivery, SupplierBag
from tests.factories import BagFactory
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


def test_lists_cost_the_same_however_long(owner_client, items):
    bag = BagFactory(item=items["Fern 11-inch"])
    pages = [reverse("delivery_list"), reverse("delivery_detail", args=[bag.delivery_id])]
    few = [queries_of(owner_client, page) for page in pages]
    for _ in range(10):
        BagFactory(item=bag.item, delivery=bag.delivery)
        BagFactory(item=bag.item)
    assert [queries_of(owner_client, page) for page in pages] == few
