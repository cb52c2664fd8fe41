import pytest

from quoting.estimator import Rates, estimate, spec_from_dict
from quoting.estimator.filling import balloon_volume
from quoting.estimator.weather import diameter_at

from .garlands import garland, plain_garland


def quantities(data, rates: Rates | None = None) -> dict[str, float]:
    est = estimate(spec_from_dict(data), rates=rates)
    return {line.item: line.quantity for line in est.sundries}


@pytest.mark.parametrize(
    ("path", "outdoor", "anchors"),
    [
        ({"kind": "line", "length_m": 3.0}, False, 4),
        ({"kind": "line", "length_m": 3.0}, True, 6 + 2),
        ({"kind": "line", "length_m": 3.01}, False, 5),
        ({"kind": "line", "length_m": 0.4}, False, 2),
        ({"kind": "ring", "diameter_m": 1.0}, False, 4),
    ],
)
def test_anchors_hold_both_ends_and_outdoors_the_bottom_from_every_side(path, outdoor, anchors):
    est = estimate(spec_from_dict(plain_garland(path=path, site={"outdoor": outdoor})))
    assert est.wind.anchors == anchors


def test_one_tie_of_ribbon_for_each_anchor():
    assert quantities(plain_garland())["curling ribbon"] == pytest.approx(4 * 0.6)


@pytest.mark.parametrize(
    ("tie", "quantity"),
    [("rubber band", 13), ("modelling balloon", 13), ("fishing line", 6.5)],
)
def test_bunches_minis_and_starbursts_are_fixed_as_the_maker_prefers(tie, quantity):
    """3 bunches, 4 minis, and twice 3 starbursts."""
    assert quantities(garland(), Rates(tie=tie))[tie] == quantity


def test_a_plain_garland_needs_no_bands():
    assert set(quantities(plain_garland())) == {"curling ribbon", "packing bag"}


def test_air_is_the_sum_of_the_balloons_and_packs_at_six_tenths():
    est = estimate(spec_from_dict(plain_garland()))
    assert est.air_m3 == pytest.approx(est.balloons[0].need * balloon_volume((9, 9)))
    assert est.packed_m3 == pytest.approx(est.air_m3 / 0.60)
    assert est.pump_minutes == pytest.approx(est.air_m3 / 0.6)


def test_a_gust_presses_on_the_whole_face():
    est = estimate(spec_from_dict(plain_garland(site={"gust_mps": 10})))
    assert est.wind.pressure_pa == pytest.approx(61.3)
    assert est.wind.force_n == pytest.approx(61.3 * 1.2 * 1.5)
    assert est.wind.force_per_anchor_n == pytest.approx(est.wind.force_n / 4)


def test_no_change_of_temperature_changes_nothing():
    assert diameter_at(11, from_c=20, to_c=20) == 11
