import re

import pytest

from inventory.catalogue.service import (
    bags_of,
    estimator_catalogue,
    sundries_without_a_price,
    units_of_estimated_sundries,
)
from inventory.catalogue.starter import STARTER_COLOURS, STARTER_SUNDRIES, add_starter_catalogue
from inventory.models import Colour, Item
from quoting.estimator import (
    OrderConditions,
    estimate,
    example_catalogue,
    example_rates,
    spec_from_dict,
)
from tests.factories import ColourFactory, SundryFactory, arch_spec

pytestmark = pytest.mark.django_db


def test_it_has_what_the_example_catalogue_has():
    add_starter_catalogue()
    catalogue = estimator_catalogue()
    for item in example_catalogue().items:
        assert catalogue.item(item.kind, item.colour, item.nominal_in).hex == item.hex.lower()
    assert sundries_without_a_price() == []


def test_the_first_estimate_works_at_once():
    add_starter_catalogue()
    catalogue = estimator_catalogue(with_archived=False)
    spec = spec_from_dict(arch_spec(), catalogue=catalogue)
    made = estimate(spec, catalogue=catalogue, rates=example_rates(), conditions=OrderConditions())
    assert made.price.total_cents > 0


def test_adding_it_twice_changes_nothing():
    assert add_starter_catalogue() == len(STARTER_COLOURS) == 12
    before = list(Item.objects.values_list())
    assert add_starter_catalogue() == 0
    assert list(Item.objects.values_list()) == before


def test_what_is_the_owners_own_is_left_alone():
    mine = ColourFactory(key="my-oat", name="OAT", hex="#111111")
    band = SundryFactory(bag_cents=999)
    assert add_starter_catalogue() == 11
    mine.refresh_from_db()
    band.refresh_from_db()
    assert (mine.hex, bags_of(mine), band.bag_cents) == ("#111111", {}, 999)
    assert not Colour.objects.filter(key="oat").exists()


def test_every_colour_is_well_formed_and_told_apart():
    assert all(re.fullmatch(r"#[0-9a-f]{6}", colour.hex) for colour in STARTER_COLOURS)
    for attribute in ("key", "name", "hex"):
        assert len({getattr(colour, attribute) for colour in STARTER_COLOURS}) == 12


def test_its_sundries_are_counted_as_estimates_count_them():
    assert {name: unit for name, unit, *_ in STARTER_SUNDRIES} == units_of_estimated_sundries()


def test_it_takes_few_queries(django_assert_max_num_queries):
    with django_assert_max_num_queries(10):
        add_starter_catalogue()
