import pytest

from quoting.estimator import Rates, estimate, spec_from_dict
from quoting.estimator.cautions import Severity

from .garlands import garland, plain_garland

LONG = {"kind": "line", "length_m": 40}
SLIM = [[0, 0.15], [1, 0.9]]


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


def test_where_spacing_is_not_enough_more_anchors_are_tied_and_counted():
    data, rates = plain_garland(site={"gust_mps": 9}), Rates(tie_strength_n=20)
    assert cautions(data, rates) == [
        "Gust 9 m/s (fresh breeze): 89 N on this piece, more than 4 of your 20 N ties hold: "
        "tie it at 5 anchors, 18 N on each, from every side."
    ]
    assert estimate(spec_from_dict(data), rates=rates).wind.anchors == 5


def test_ties_too_weak_for_any_spacing_stop_the_work():
    data, rates = plain_garland(site={"gust_mps": 9}), Rates(tie_strength_n=5)
    (caution,) = estimate(spec_from_dict(data), rates=rates).cautions
    assert caution.severity is Severity.STOP
    assert "18 anchors at your 5 N ties" in caution.text
    assert "use ties that hold 8 N each at 11 anchors" in caution.text


def test_a_gust_over_the_limit_is_said_in_either_system_of_units():
    spec = spec_from_dict(plain_garland(site={"gust_mps": 14, "outdoor": True}))
    (caution,) = estimate(spec, rates=Rates(wind_limit_mps=12)).cautions
    assert caution.key == "wind limit"
    assert caution.said("metric") == caution.text
    assert caution.text == (
        "Gust 14 m/s (near gale): 216 N on this piece, 6 anchors at your 40 N ties; your own "
        "limit is 12 m/s: do not install; move it indoors or to another hour, or ask a "
        "licensed rigger and follow your local codes."
    )
    said = caution.said("imperial")
    assert "Gust 31 mph" in said
    assert "49 lbf on this piece" in said
    assert "limit is 27 mph" in said
    assert "m/s" not in said


def test_every_caution_can_be_said_in_feet_and_fahrenheit():
    site = {"outdoor": True, "height_m": 3, "made_at_c": 21, "site_c": 2, "gust_mps": 20}
    found = estimate(spec_from_dict(garland(site=site, path=LONG, width=SLIM))).cautions
    assert {c.key for c in found} == {
        "wind limit",
        "ladder",
        "foil outdoors",
        "room",
        "narrow",
        "foil slack",
        "cold",
    }
    for caution in found:
        assert not any(unit in caution.said("imperial") for unit in ("°C", " m ", " m³", " N "))


def test_heat_names_the_dark_colours_that_go_first():
    base = [{"colour": "oat", "share": 0.5}, {"colour": "plum", "share": 0.5}]
    (caution,) = cautions(plain_garland(base=base, site={"outdoor": True, "site_c": 33}))
    assert "dark colours go first, here plum" in caution


def test_the_swollen_balloon_is_told_how_large_it_may_be():
    sizes = [{"nominal_in": 11, "inflated_in": [11, 11], "share": 1}]
    site = {"made_at_c": 15, "site_c": 25}
    (caution,) = cautions(plain_garland(sizes=sizes, site=site))
    assert "inflate it to 10.8 in at most" in caution
    sizes[0]["inflated_in"] = [10.8, 10.8]
    assert cautions(plain_garland(sizes=sizes, site=site)) == []


def test_foil_made_in_the_cold_is_left_short_of_tight():
    found = cautions(garland(site={"made_at_c": 10, "site_c": 25}))
    assert any("5.3 % more room" in text for text in found)


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
