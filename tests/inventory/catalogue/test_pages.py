from datetime import UTC, datetime

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from inventory.catalogue import forms
from inventory.catalogue.service import FOIL, BagPrice, bags_of
from inventory.catalogue.starter import add_starter_catalogue
from inventory.catalogue.views import STARTED_BEFORE
from inventory.models import Colour, Item
from tests.factories import ColourFactory, ItemFactory, SundryFactory

NOW = datetime(2026, 6, 13, 12, tzinfo=UTC)
PAGE = reverse("catalogue")
ADD = reverse("colour_add")
FERN = {
    "name": "Fern",
    "hex": "#5E7F57",
    "finish": "pearl",
    "count_11": "100",
    "price_11": "16.50",
    "count_foil": "60",
    "price_foil": "24",
    "special_foil": "on",
}
BANDS = {"name": "rubber band", "unit": "each", "count": "500", "price": "4"}


def test_an_empty_catalogue_offers_the_starter(owner_client):
    page = owner_client.get(PAGE).text
    assert "No colours yet" in page
    assert reverse("catalogue_start") in page
    assert "Washday" in page


def test_the_starter_is_added_at_one_press_and_told_so(owner_client):
    reply = owner_client.post(reverse("catalogue_start"), follow=True)
    assert "12 colours are added" in reply.text
    assert "100 for $16.50" in reply.text
    again = owner_client.post(reverse("catalogue_start"), follow=True)
    assert STARTED_BEFORE in again.text


def test_the_list_says_what_has_no_price_yet(owner_client):
    SundryFactory()
    page = owner_client.get(PAGE).text
    assert f"{reverse('item_add')}?name=fishing%20line" in page
    assert "?name=rubber%20band" not in page


def test_the_list_takes_as_many_queries_for_twelve_colours_as_for_one(
    owner_client, django_assert_num_queries
):
    ItemFactory()
    owner_client.get(PAGE)
    with CaptureQueriesContext(connection) as one:
        owner_client.get(PAGE)
    add_starter_catalogue()
    with django_assert_num_queries(len(one)):
        owner_client.get(PAGE)


def test_a_colour_is_added_with_all_its_sizes(owner_client):
    reply = owner_client.post(ADD, FERN)
    assert reply.url == PAGE
    colour = Colour.objects.get()
    assert (colour.key, colour.name, colour.hex, colour.finish) == (
        "fern",
        "Fern",
        "#5e7f57",
        "pearl",
    )
    assert bags_of(colour) == {
        11: BagPrice(count=100, cents=1650),
        FOIL: BagPrice(count=60, cents=2400, is_special_order=True),
    }


WRONG = [
    ({"name": ""}, "name", forms.NAME_MISSING),
    ({"name": "  oAT "}, "name", forms.NAME_TAKEN.format(name="Oat")),
    ({"name": "plum"}, "name", forms.NAME_PUT_AWAY.format(name="Plum")),
    ({"hex": "green"}, "hex", "Give a colour as # and six digits"),
    ({"hex": "#5e7f57;}"}, "hex", "at most 7 characters"),
    ({"finish": "velvet"}, "finish", "valid choice"),
    ({"count_11": "0"}, "count_11", "a whole number from 1 to 100,000"),
    ({"count_11": "-5"}, "count_11", "a whole number from 1 to 100,000"),
    ({"count_11": "NaN"}, "count_11", "a whole number from 1 to 100,000"),
    ({"count_11": "12.5"}, "count_11", "a whole number from 1 to 100,000"),
    ({"count_11": "9999999"}, "count_11", "a whole number from 1 to 100,000"),
    ({"price_11": "-1"}, "price_11", "Between $0.00"),
    ({"price_11": "NaN"}, "price_11", "Write an amount"),
    ({"price_11": "1e9"}, "price_11", "Between $0.00"),
    ({"price_11": "12,50"}, "price_11", "Write an amount"),
    ({"price_11": ""}, "price_11", forms.PRICE_MISSING.format(what="11-inch")),
    ({"count_11": ""}, "count_11", forms.COUNT_MISSING.format(what="11-inch")),
    ({"special_24": "on"}, "count_24", forms.BAG_MISSING.format(what="24-inch")),
    (
        {"count_11": "", "price_11": "", "count_foil": "", "price_foil": "", "special_foil": ""},
        "count_11",
        forms.NOTHING_BOUGHT,
    ),
]


@pytest.mark.parametrize(("change", "field", "message"), WRONG)
def test_what_is_wrong_is_said_beside_its_field_and_nothing_is_lost(
    owner_client, change, field, message
):
    ColourFactory(key="oat", name="Oat")
    ColourFactory(key="plum", name="Plum", archived_at=NOW)
    reply = owner_client.post(ADD, {**FERN, **change})
    form = reply.context["form"]
    assert reply.status_code == 422
    assert any(message in said for said in form.errors[field])
    assert Colour.objects.count() == 2
    for name, typed in {**FERN, **change}.items():
        shown = form[name].value()
        assert shown == typed if not name.startswith("special") else bool(shown) == bool(typed)


def test_a_colour_is_changed_and_keeps_its_own_name(owner_client):
    colour = ItemFactory(colour=ColourFactory(key="fern", name="Fern")).colour
    page = reverse("colour_edit", args=[colour.pk])
    assert 'value="16.50"' in owner_client.get(page).text
    owner_client.post(page, {**FERN, "price_11": "18"})
    colour.refresh_from_db()
    assert (colour.key, colour.finish, bags_of(colour)[11].cents) == ("fern", "pearl", 1800)


def test_a_refused_change_keeps_the_heading_and_the_row(owner_client):
    colour = ColourFactory(key="fern", name="Fern")
    page = reverse("colour_edit", args=[colour.pk])
    reply = owner_client.post(page, {**FERN, "name": ""})
    assert "<h1>Fern</h1>" in reply.text
    assert Colour.objects.get().finish == "plain"


def test_a_colour_is_put_away_and_brought_back(owner_client):
    colour = ColourFactory(key="fern")
    reply = owner_client.post(reverse("colour_archive", args=[colour.pk]), follow=True)
    assert reverse("colour_bring_back", args=[colour.pk]) in reply.text
    assert reverse("colour_archive", args=[colour.pk]) not in owner_client.get(
        reverse("colour_edit", args=[colour.pk])
    ).text.replace("archived", "")
    owner_client.post(reverse("colour_bring_back", args=[colour.pk]))
    assert not Colour.objects.get().is_archived


def test_a_name_cannot_bring_markup_into_a_page(owner_client):
    owner_client.post(ADD, {**FERN, "name": "<b>Fern</b>"})
    page = owner_client.get(PAGE).text
    assert "&lt;b&gt;Fern" in page
    assert "<b>Fern" not in page


def test_a_sundry_is_added_by_the_name_estimates_use(owner_client):
    assert 'value="rubber band"' in owner_client.get(f"{reverse('item_add')}?name=rubber band").text
    owner_client.post(reverse("item_add"), {**BANDS, "name": " Rubber  Band "})
    sundry = Item.objects.get()
    assert (sundry.name, sundry.unit, sundry.bag_count, sundry.bag_cents) == (
        "rubber band",
        "each",
        500,
        400,
    )


@pytest.mark.parametrize(
    ("change", "field", "message"),
    [
        ({"name": ""}, "name", forms.NAME_MISSING),
        ({"name": "Packing bag"}, "name", forms.SUNDRY_TAKEN.format(name="packing bag")),
        ({"name": "ladder hook"}, "name", forms.SUNDRY_PUT_AWAY.format(name="Ladder hook")),
        ({"unit": "m"}, "unit", "Estimates count rubber band one by one."),
        ({"name": "fishing line"}, "unit", "Estimates count fishing line by the metre."),
        ({"unit": "furlong"}, "unit", "valid choice"),
        ({"count": "0"}, "count", forms.SUNDRY_COUNT_WRONG),
        ({"count": ""}, "count", forms.SUNDRY_COUNT_WRONG),
        ({"price": ""}, "price", forms.SUNDRY_PRICE_MISSING),
        ({"price": "-4"}, "price", "Between $0.00"),
    ],
)
def test_a_wrong_sundry_is_refused_beside_its_field(owner_client, change, field, message):
    SundryFactory(name="packing bag")
    SundryFactory(name="Ladder hook", archived_at=NOW)
    reply = owner_client.post(reverse("item_add"), {**BANDS, **change})
    assert reply.status_code == 422
    assert any(message in said for said in reply.context["form"].errors[field])
    assert Item.objects.count() == 2


def test_a_sundry_that_estimates_know_keeps_its_name(owner_client):
    sundry = SundryFactory()
    page = reverse("item_edit", args=[sundry.pk])
    assert forms.NAME_IS_KNOWN in owner_client.get(page).text
    owner_client.post(page, {**BANDS, "name": "elastic", "price": "5"})
    sundry.refresh_from_db()
    assert (sundry.name, sundry.bag_cents) == ("rubber band", 500)


def test_a_sundry_of_the_owners_own_is_renamed(owner_client):
    sundry = SundryFactory(name="hook")
    owner_client.post(reverse("item_edit", args=[sundry.pk]), {**BANDS, "name": "Door hook"})
    sundry.refresh_from_db()
    assert sundry.name == "Door hook"


def test_a_sundry_is_put_away_and_brought_back(owner_client):
    sundry = SundryFactory()
    owner_client.post(reverse("item_archive", args=[sundry.pk]))
    assert Item.objects.get().is_archived
    assert (
        "Rubber band is back"
        in owner_client.post(reverse("item_bring_back", args=[sundry.pk]), follow=True).text
    )
    assert not Item.objects.get().is_archived


def test_a_balloon_is_changed_with_its_colour(owner_client):
    item = ItemFactory()
    reply = owner_client.get(reverse("item_edit", args=[item.pk]))
    assert reply.url == reverse("colour_edit", args=[item.colour_id])
    assert owner_client.post(reverse("item_archive", args=[item.pk])).status_code == 404


@pytest.mark.parametrize(
    "name", ["colour_edit", "colour_archive", "colour_bring_back", "item_edit", "item_archive"]
)
def test_what_is_not_there_is_not_found(owner_client, name):
    assert owner_client.post(reverse(name, args=[999]), {}).status_code == 404


@pytest.mark.parametrize(
    "name", ["colour_archive", "colour_bring_back", "item_archive", "item_bring_back"]
)
def test_nothing_is_put_away_by_following_a_link(owner_client, name):
    assert owner_client.get(reverse(name, args=[1])).status_code == 405
    assert owner_client.get(reverse("catalogue_start")).status_code == 405
