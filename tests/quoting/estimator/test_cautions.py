import pytest

from quoting.estimator import Rates, estimate, spec_from_dict

from .garlands import garland, plain_garland


def cautions(data, rates: Rates | None = None) -> list[str]:
    return [str(caution) for caution in estimate(spec_from_dict(data), rates=rates).cautions]


def test_a_calm_indoor_garland_needs_no_caution():
    assert cautions(plain_garland()) == []


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"site": {"gust_mps": 14}}, ("14 m/s", "10 m/s", "do not install", "licensed rigger")),
        ({"site": {"height_m": 3}}, ("3 m", "ladder", "one quarter")),
        ({"site": {"outdoor": True, "site_c": 33}}, ("33 °C", "7.5 in", "dark colours")),
        ({"site": {"site_c": 2}}, ("2 °C", "necks stiff")),
        ({"width": [[0, 0.15], [1, 0.5]]}, ("0.15 m", "slimmer")),
        ({"path": {"kind": "line", "length_m": 40}}, ("vehicle holds 2.97", "4 loads")),
    ],
)
def test_each_hazard_gets_one_specific_caution(changes, words):
    (caution,) = cautions(plain_garland(**changes))
    assert all(word in caution for word in words)


def test_weak_ties_are_named_with_the_force_on_each():
    (caution,) = cautions(plain_garland(site={"gust_mps": 9}), Rates(tie_strength_n=20))
    assert "22 N on each of 4 anchors" in caution
    assert "20 N" in caution


def test_balloons_sized_close_to_full_swell_past_it_in_heat():
    sizes = [{"nominal_in": 11, "inflated_in": [11, 11], "share": 1}]
    found = cautions(plain_garland(sizes=sizes, site={"made_at_c": 15, "site_c": 25}))
    assert len(found) == 1
    assert "swells to 11.1 in" in found[0]


def test_foil_outdoors_is_kept_from_power_lines():
    assert any("power lines" in text for text in cautions(garland()))


def test_the_gravest_caution_comes_first():
    site = {"outdoor": True, "height_m": 3, "site_c": 2, "gust_mps": 20}
    severities = [c.severity for c in estimate(spec_from_dict(garland(site=site))).cautions]
    assert severities == sorted(severities)
    assert len(severities) > 2
    assert "do not install" in cautions(garland(site=site))[0]


def test_five_inch_in_the_clusters_is_unusual_and_said():
    sizes = [{"nominal_in": 5, "inflated_in": [4, 4], "share": 1}]
    assert any("mini-clusters" in text for text in cautions(plain_garland(sizes=sizes)))
