import json
from dataclasses import replace
from decimal import Decimal

import pytest

from quoting.estimator import (
    CatalogueError,
    Rates,
    RatesError,
    RushTier,
    UnitTimes,
    catalogue_from_dict,
    catalogue_to_dict,
    example_catalogue,
    example_rates,
    rates_from_dict,
    rates_to_dict,
)
from quoting.estimator.rates import CallingOffBand


def test_a_rate_card_survives_being_kept_as_json():
    card = Rates(
        currency="EUR",
        labour_cents_by_phase={"drive": 1500},
        rush=(RushTier(within_days=2, extra_bp=3000),),
        small_order_cents=15_000,
        calling_off=(CallingOffBand(from_days=0, keep_bp=5000),),
        unit_times=UnitTimes(mini_s=50),
        tax_inclusive=True,
    )
    assert rates_from_dict(json.loads(json.dumps(rates_to_dict(card)))) == card


def test_an_empty_rate_card_is_the_example_but_for_what_no_client_was_told_of():
    old = rates_from_dict({})
    assert old == Rates()
    assert (old.small_order_cents, old.calling_off) == (0, ())
    told = {"small_order_cents": 20_000, "calling_off": example_rates().calling_off}
    assert replace(old, **told) == example_rates()


def bands(*bands):
    return [{"from_days": days, "keep_bp": keep} for days, keep in bands]


@pytest.mark.parametrize(
    ("data", "key"),
    [
        ({"margin_bp": 10_000}, "margin_bp"),
        ({"margin_bp": 12.5}, "margin_bp"),
        ({"labour_cents_per_hour": -1}, "labour_cents_per_hour"),
        ({"labour_cents_by_phase": {"tea": 100}}, "labour_cents_by_phase.tea"),
        ({"labour_cents_by_phase": {"drive": "x"}}, "labour_cents_by_phase.drive"),
        ({"unit_times": {"mini_s": float("nan")}}, "unit_times.mini_s"),
        ({"unit_times": {"nap_s": 1}}, "unit_times.nap_s"),
        ({"rounding_cents": 0}, "rounding_cents"),
        ({"tie": "string"}, "tie"),
        ({"fill": 0.9}, "fill"),
        ({"rush": [{"within_days": 3, "extra_bp": 1}] * 2}, "rush[1].within_days"),
        ({"small_order_cents": -1}, "small_order_cents"),
        ({"calling_off": bands((7, 1), (7, 1), (0, 1))}, "calling_off[1].from_days"),
        ({"calling_off": bands((7, 2), (0, 1))}, "calling_off[1].keep_bp"),
        ({"calling_off": bands((7, 1), (1, 1))}, "calling_off[1].from_days"),
        ({"calling_off": bands((0, 10_001))}, "calling_off[0].keep_bp"),
        ({"markup_bp": 1}, "markup_bp"),
    ],
)
def test_a_bad_rate_is_refused_at_its_key(data, key):
    with pytest.raises(RatesError) as refused:
        rates_from_dict(data)
    assert [problem.key for problem in refused.value.problems] == [key]


def test_a_catalogue_survives_being_kept_as_json():
    kept = json.loads(json.dumps(catalogue_to_dict(example_catalogue())))
    assert catalogue_from_dict(kept) == example_catalogue()


def item(**changes):
    plain = {
        "colour": "oat",
        "name": "Oat",
        "kind": "latex",
        "nominal_in": 11,
        "bag_count": 100,
        "bag_cents": 1500,
        "hex": "#E8DCC6",
    }
    return plain | changes


@pytest.mark.parametrize(
    ("items", "key"),
    [
        ([], "items"),
        ([item(bag_count=0)], "items[0].bag_count"),
        ([item(kind="cloth")], "items[0].kind"),
        ([item(nominal_in=None)], "items[0].nominal_in"),
        ([item(kind="foil")], "items[0].nominal_in"),
        ([item(), item()], "items[1]"),
        ([item(loss_rate=1)], "items[0].loss_rate"),
        ([item(price=3)], "items[0].price"),
        ([item(hex="green")], "items[0].hex"),
        ([item(hex="#12345G")], "items[0].hex"),
    ],
)
def test_a_bad_item_is_refused_at_its_key(items, key):
    with pytest.raises(CatalogueError) as refused:
        catalogue_from_dict({"version": 1, "items": items})
    assert [problem.key for problem in refused.value.problems] == [key]


def test_a_sundry_may_cost_a_fraction_of_a_cent():
    band = {"item": "rubber band", "unit": "each", "unit_cents": 0.8}
    catalogue = catalogue_from_dict({"version": 1, "items": [item()], "sundries": [band]})
    assert catalogue.sundry_cents("rubber band") == Decimal("0.8")
    assert catalogue.sundry_cents("glue") is None


def test_the_example_has_what_a_first_estimate_needs():
    have = {(i.kind, i.colour, i.nominal_in) for i in example_catalogue().items}
    for colour in ("oat", "fern", "marigold", "tidewater", "plum"):
        assert {("latex", colour, float(size)) for size in (5, 11, 17, 24)} <= have
    assert ("foil", "copper", None) in have
