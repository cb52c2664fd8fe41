import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from quoting.estimator import Rates, SpecError, estimate, spec_from_dict
from quoting.estimator.cautions import Severity
from quoting.estimator.filling import balloon_volume
from quoting.estimator.packing import order_loads

from .garlands import garland, plain_garland, specs

NO_SINGLES = garland(singles=None)


def packed(data, **rates):
    return estimate(spec_from_dict(data), rates=Rates(**rates)).packing


def test_large_singles_travel_flat_and_are_inflated_at_the_site():
    packing = packed(garland())
    assert packing.singles_at_site == 4
    singles = 4 * balloon_volume((18, 22)) / 0.60
    assert packing.packed_m3 - packing.travels_m3 == pytest.approx(singles)
    assert packed(NO_SINGLES).packed_m3 == packed(NO_SINGLES).travels_m3


def test_bags_and_loads_are_whole_and_enough():
    packing = packed(garland(), packing_bag_m3=0.4, vehicle_m3=0.5)
    assert packing.bags * 0.4 >= packing.travels_m3 > (packing.bags - 1) * 0.4
    assert packing.loads == 3
    assert not packing.fits
    assert packing.vehicle_share == pytest.approx(packing.travels_m3 / 0.5)


def test_the_time_to_pack_and_load_is_that_of_the_estimate():
    packing = packed(garland())
    assert packing.pack_hours == pytest.approx(10 * 10 / 3600)
    assert packing.load_hours == pytest.approx(0.5)


def test_it_is_said_in_either_system_of_units():
    packing = packed(garland())
    assert packing.said("metric") == (
        "4 packing bags, 1.33 m³ in all, for a vehicle of 2.97 m³: it fits; 4 large singles are "
        "inflated at the site"
    )
    assert "47 cu ft in all, for a vehicle of 105 cu ft: it fits" in packing.said("imperial")
    assert "plan 3 loads" in packed(NO_SINGLES, vehicle_m3=0.8).said("metric")


def test_pieces_of_one_order_share_the_vehicle():
    packing = packed(plain_garland(), vehicle_m3=2)
    assert packing.loads == 1
    assert order_loads([packing] * 6, Rates(vehicle_m3=2)) == 3


@given(specs(), st.floats(5, 80))
@settings(max_examples=40)
def test_anchors_hold_the_gust_or_the_work_is_stopped(spec, tie_strength):
    try:
        est = estimate(spec, rates=Rates(tie_strength_n=tie_strength))
    except SpecError:
        return
    stopped = {c.key for c in est.cautions if c.severity is Severity.STOP}
    holds = est.wind.force_per_anchor_n <= tie_strength * (1 + 1e-9)
    assert holds or stopped & {"wind limit", "weak ties"}
    assert 0 <= est.packing.travels_m3 <= est.packed_m3
