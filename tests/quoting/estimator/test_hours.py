import pytest

from quoting.estimator import (
    Estimate,
    OrderConditions,
    Rates,
    UnitTimes,
    estimate,
    spec_from_dict,
)
from quoting.estimator.hours import elapsed_hours

from .garlands import garland, plain_garland


def hours(est: Estimate, phase: str) -> float:
    return next((line.person_hours for line in est.labour if line.phase == phase), 0.0)


def reason(est: Estimate, phase: str) -> str:
    return next(line.why for line in est.labour if line.phase == phase)


def test_every_phase_is_quantity_times_unit_time():
    est = estimate(spec_from_dict(garland(site={})))
    need = {(line.use, line.nominal_in): 0 for line in est.balloons}
    for line in est.balloons:
        need[line.use, line.nominal_in] += line.need
    inflating = (
        (need["base", 11] + need["accent", 11]) * 12 + need["base", 17] * 18 + need["filler", 5] * 9
    )
    clusters, anchors = est.make.cluster_count, est.wind.anchors
    fixings = est.make.accent_bunches + est.make.minis + 2 * est.make.starbursts
    singles = est.make.singles
    hanging = clusters * 45 + (fixings + singles) * 20 + anchors * 120 + singles * 45
    expected = {
        "inflate and tie": inflating,
        "twist clusters": clusters * 25,
        "mini-clusters": est.make.minis * 45,
        "starbursts": 3 * 240,
        "pack": clusters * 10,
        "hang": hanging,
        "check and fill": hanging * 0.15,
        "load and unload": 1800,
        "drive": 3000,
    }
    assert {line.phase: line.person_hours * 3600 for line in est.labour} == pytest.approx(expected)
    assert est.person_hours * 3600 == pytest.approx(sum(expected.values()))


@pytest.mark.parametrize(
    ("site", "factor"),
    [
        ({"height_m": 2.4}, 1),
        ({"height_m": 2.5}, 1.35),
        ({"site_c": 4.9}, 1.25),
        ({"rain": True}, 1.25),
        ({"height_m": 3, "rain": True, "site_c": 2}, 1.35 * 1.25),
    ],
)
def test_a_ladder_cold_and_rain_slow_the_hanging_only(site, factor):
    plain = estimate(spec_from_dict(plain_garland()))
    slowed = estimate(spec_from_dict(plain_garland(site=site)))
    assert hours(slowed, "hang") == pytest.approx(factor * hours(plain, "hang"))
    assert hours(slowed, "inflate and tie") == hours(plain, "inflate and tie")


def test_outdoors_slows_the_hanging_by_what_the_card_has_learned():
    rates = Rates(unit_times=UnitTimes(outdoor_factor=1.2))
    inside = estimate(spec_from_dict(plain_garland(site={"outdoor": False})), rates=rates)
    card = estimate(spec_from_dict(plain_garland(site={"outdoor": True})))
    learned = estimate(spec_from_dict(plain_garland(site={"outdoor": True})), rates=rates)
    assert hours(learned, "hang") == pytest.approx(1.2 * hours(card, "hang"))
    assert reason(learned, "hang").endswith("; outdoors ×1.2")
    assert "outdoors" not in reason(inside, "hang") + reason(card, "hang")


def test_an_arch_taller_than_reach_needs_a_ladder_whatever_the_site_says():
    tall = plain_garland(path={"kind": "arch", "width_m": 2, "height_m": 2.6})
    assert "ladder" in reason(estimate(spec_from_dict(tall)), "hang")


@pytest.mark.parametrize(("crew", "elapsed"), [(1, 6.0), (2, 3.15), (3, 2.2)])
def test_each_extra_person_adds_five_per_cent(crew, elapsed):
    assert elapsed_hours(6.0, crew, UnitTimes()) == pytest.approx(elapsed)


def test_everybody_in_the_car_is_paid_for_the_drive():
    travel = {"distance_km": 10, "minutes": 30}
    est = estimate(spec_from_dict(plain_garland(crew=2, travel=travel)))
    assert hours(est, "drive") == pytest.approx(2.0)


def test_a_business_that_does_not_pay_the_drive_counts_no_drive():
    travel = {"distance_km": 10, "minutes": 30}
    spec = spec_from_dict(plain_garland(travel=travel))
    assert hours(estimate(spec, rates=Rates(drive_time_paid=False)), "drive") == 0


def test_taking_down_is_a_second_visit_with_its_own_drive():
    spec = spec_from_dict(plain_garland(travel={"distance_km": 10, "minutes": 30}))
    est = estimate(spec, conditions=OrderConditions(strike=True))
    assert hours(est, "strike") * 60 == pytest.approx(12 + 2 * 3.0)
    assert hours(est, "drive") == pytest.approx(2.0)


def test_the_business_own_times_replace_the_defaults():
    spec = spec_from_dict(plain_garland())
    quick = Rates(unit_times=UnitTimes(inflate_11_s=6))
    assert hours(estimate(spec, rates=quick), "inflate and tie") == pytest.approx(
        hours(estimate(spec), "inflate and tie") / 2
    )
