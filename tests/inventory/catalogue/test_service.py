from datetime import UTC, datetime
from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction

from inventory.catalogue.service import (
    FOIL,
    BagPrice,
    bags_of,
    colour_add,
    colour_archive,
    colour_bring_back,
    colour_change,
    estimator_catalogue,
    sundries_without_a_price,
    sundry_archive,
    units_of_estimated_sundries,
)
from inventory.models import Colour, Item
from inventory.models.item import Kind
from quoting.estimator import catalogue_from_dict, catalogue_to_dict
from tests.factories import ColourFactory, ItemFactory, SundryFactory

NOW = datetime(2026, 6, 13, 12, tzinfo=UTC)
HUNDRED = BagPrice(count=100, cents=1650)
pytestmark = pytest.mark.django_db


def added(name: str, bag: BagPrice = HUNDRED) -> Colour:
    return colour_add(name=name, hex_value="#3f7c8c", finish="plain", bags={11: bag}, now=NOW)


@pytest.mark.parametrize(
    ("name", "key"),
    [
        ("Tidewater", "tidewater"),
        ("Wet slate", "wet-slate"),
        ("Zoë’s own", "zoes-own"),
        ("森", "colour"),
        ("-", "colour"),
        ("A" * 60, "a" * 40),
    ],
)
def test_a_key_is_made_from_the_name(name, key):
    assert added(name).key == key


def test_names_that_look_alike_get_keys_of_their_own():
    keys = [added(name).key for name in ("Wet slate", "Wet-slate", "wet  slate!")]
    assert keys == ["wet-slate", "wet-slate-2", "wet-slate-3"]


def test_a_long_key_keeps_room_for_its_number():
    keys = [added("A" * 59 + end).key for end in ("b", "c")]
    assert keys == ["a" * 40, "a" * 38 + "-2"]


def test_a_colour_keeps_its_key_under_a_new_name():
    colour = added("Tidewater")
    colour_change(
        colour=colour, name="Harbour", hex_value="#000000", finish="pearl", bags={}, now=NOW
    )
    colour.refresh_from_db()
    assert (colour.key, colour.name, colour.hex, colour.finish) == (
        "tidewater",
        "Harbour",
        "#000000",
        "pearl",
    )


def test_a_size_left_out_is_archived_and_comes_back_as_the_same_item():
    colour = added("Tidewater")
    first = colour.items.get()
    kept = {"colour": colour, "name": "Tidewater", "hex_value": "#3f7c8c", "finish": "plain"}
    colour_change(**kept, bags={FOIL: HUNDRED}, now=NOW)
    assert set(bags_of(colour)) == {FOIL}
    assert Item.objects.get(pk=first.pk).archived_at == NOW
    colour_change(**kept, bags={11: BagPrice(count=50, cents=900)}, now=NOW)
    assert bags_of(colour) == {11: BagPrice(count=50, cents=900)}
    assert Item.objects.get(pk=first.pk).archived_at is None


@pytest.mark.parametrize(
    "wrong", [{"hex_value": "red"}, {"hex_value": "#12345"}, {"finish": "velvet"}, {"name": ""}]
)
def test_what_is_no_colour_is_refused_and_leaves_nothing(wrong):
    said = {"name": "Oat", "hex_value": "#e8dcc6", "finish": "plain", **wrong}
    with pytest.raises(ValidationError):
        colour_add(**said, bags={11: HUNDRED}, now=NOW)
    assert not Colour.objects.exists()


def test_a_bag_that_cannot_be_leaves_no_colour_behind():
    with pytest.raises(ValidationError):
        added("Oat", BagPrice(count=0, cents=100))
    assert not Colour.objects.exists()


def test_the_database_holds_one_colour_to_a_name_however_it_is_written():
    ColourFactory(key="oat", name="Oat")
    with pytest.raises(IntegrityError), transaction.atomic():
        ColourFactory(key="oats", name="OAT")


def test_an_archived_colour_is_priced_but_not_offered():
    colour = ItemFactory(colour=ColourFactory(key="fern")).colour
    colour_archive(colour=colour, now=NOW)
    assert estimator_catalogue().item("latex", "fern", 11.0).bag_cents == 1650
    assert estimator_catalogue(with_archived=False).items == ()
    colour_bring_back(colour=colour)
    assert len(estimator_catalogue(with_archived=False).items) == 1


def test_a_size_that_is_no_longer_bought_is_priced_but_not_offered():
    ItemFactory(archived_at=NOW)
    assert len(estimator_catalogue().items) == 1
    assert estimator_catalogue(with_archived=False).items == ()


def test_archiving_twice_keeps_the_first_day():
    colour = ColourFactory()
    colour_archive(colour=colour, now=NOW)
    colour_archive(colour=colour, now=datetime(2027, 1, 1, tzinfo=UTC))
    assert Colour.objects.get().archived_at == NOW


def test_the_estimator_is_told_all_it_needs_of_an_item():
    fern = ColourFactory(key="fern", name="Fern", hex="#5e7f57")
    ItemFactory(colour=fern, nominal_in=17, bag_count=50, bag_cents=2400, is_special_order=True)
    ItemFactory(colour=fern, kind=Kind.FOIL, nominal_in=None, bag_count=60, bag_cents=2400)
    catalogue = estimator_catalogue()
    latex = catalogue.item("latex", "fern", 17.0)
    assert (latex.name, latex.hex, latex.bag_count, latex.bag_cents, latex.special_order) == (
        "Fern",
        "#5e7f57",
        50,
        2400,
        True,
    )
    assert catalogue.item("foil", "fern", None).name == "Fern starburst points"


@pytest.mark.parametrize(
    ("count", "cents", "unit_cents"),
    [(500, 400, "0.8"), (100, 10_000, "100"), (3, 100, "33.3333"), (100, 0, "0"), (7, 1, "0.1429")],
)
def test_a_sundry_is_priced_by_the_unit_to_a_ten_thousandth_of_a_cent(count, cents, unit_cents):
    SundryFactory(bag_count=count, bag_cents=cents)
    assert str(estimator_catalogue().sundry_cents("rubber band")) == unit_cents


def test_an_archived_sundry_has_no_price_and_is_asked_for_again():
    sundry = SundryFactory()
    assert estimator_catalogue().sundry_cents("rubber band") == Decimal("0.8")
    sundry_archive(sundry=sundry, now=NOW)
    assert estimator_catalogue().sundry_cents("rubber band") is None
    assert "rubber band" in sundries_without_a_price()


def test_sundries_are_counted_as_the_estimator_counts_them():
    """Units of the estimator's own lines, written out here by hand."""
    assert units_of_estimated_sundries() == {
        "rubber band": "each",
        "modelling balloon": "each",
        "fishing line": "m",
        "curling ribbon": "m",
        "packing bag": "each",
    }


def test_the_catalogue_survives_being_frozen_into_an_edition():
    ItemFactory()
    SundryFactory(bag_count=3, bag_cents=100)
    catalogue = estimator_catalogue()
    assert catalogue_from_dict(catalogue_to_dict(catalogue)) == catalogue


def test_the_catalogue_takes_as_many_queries_however_large(django_assert_num_queries):
    for size in (5, 11, 17, 24):
        for key in ("oat", "fern", "plum"):
            ItemFactory(colour=ColourFactory(key=key), nominal_in=size)
    with django_assert_num_queries(3):
        assert len(estimator_catalogue().items) == 12
    with django_assert_num_queries(3):
        estimator_catalogue(with_archived=False)
