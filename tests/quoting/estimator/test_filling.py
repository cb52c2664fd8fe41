from math import isclose, pi

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from quoting.estimator import SpecError, estimate, spec_from_dict
from quoting.estimator.filling import balloon_volume, envelope, whole_down, whole_up

from .garlands import garland, plain_garland


@given(st.floats(2, 20), st.floats(0, 10))
def test_mean_volume_is_the_mean_over_evenly_spread_diameters(low, spread):
    """Against scipy.integrate.quad of pi/6 d^3."""
    high = low + spread
    inch = 0.0254
    if spread < 1e-6:
        expected = pi / 6 * (low * inch) ** 3
    else:
        total, _ = quad(lambda d: pi / 6 * (d * inch) ** 3, low, high)
        expected = total / (high - low)
    assert isclose(balloon_volume((low, high)), expected, rel_tol=1e-5)


def test_the_envelope_is_a_cylinder_and_a_wall_behind_takes_some_of_it():
    free = spec_from_dict(plain_garland())
    flat = spec_from_dict(plain_garland(backing="flat"))
    assert isclose(envelope(free, 3.0), pi / 4 * 0.5**2 * 3)
    assert isclose(envelope(flat, 3.0) / envelope(free, 3.0), 0.85)


def test_the_body_fills_seven_tenths_of_the_envelope():
    est = estimate(spec_from_dict(plain_garland()))
    filled = est.count.likely.base * balloon_volume((9, 9)) / est.envelope_m3
    assert isclose(filled, 0.70)


def test_accents_and_singles_take_their_own_room_from_the_base():
    """Base, accents and singles together fill what the base alone would."""
    spec = spec_from_dict(garland(fillers=None))
    est = estimate(spec)
    mean = 0.75 * balloon_volume((6, 10)) + 0.25 * balloon_volume((12, 15))
    filled = (
        est.count.likely.base * mean
        + est.count.likely.accents[0] * balloon_volume((6, 9))
        + 0.6 * est.path_length_m * balloon_volume((18, 22))
    )
    assert isclose(filled, 0.70 * est.envelope_m3)
    assert isclose(est.count.likely.accents[0], 0.08 * 0.70 * est.envelope_m3 / mean)


def test_fillers_take_no_room_as_they_sit_in_the_dips():
    with_fillers = estimate(spec_from_dict(garland()))
    without = estimate(spec_from_dict(garland(fillers=None)))
    assert with_fillers.count == without.count


@pytest.mark.parametrize(
    ("changes", "key"),
    [
        ({"singles": {"per_m": 10, "colours": ["oat"]}}, "accents"),
        ({"accents": None, "singles": {"per_m": 10, "colours": ["oat"]}}, "singles"),
        (
            {"singles": None, "accents": [{"colour": "plum", "share": 1, "inflated_in": [11, 11]}]},
            "accents",
        ),
    ],
)
def test_a_garland_with_no_room_for_a_base_is_refused_with_that_reason(changes, key):
    slim = {
        "width": [[0, 0.3], [1, 0.3]],
        "sizes": [{"nominal_in": 11, "inflated_in": [5, 6], "share": 1}],
    }
    with pytest.raises(SpecError, match="no room for base balloons") as refused:
        estimate(spec_from_dict(garland(**slim, **changes)))
    assert [problem.key for problem in refused.value.problems] == [key]


def test_millions_of_balloons_are_refused():
    vast = plain_garland(
        path={"kind": "line", "length_m": 100},
        width=[[0, 3], [1, 3]],
        sizes=[{"nominal_in": 5, "inflated_in": [2, 2], "share": 1}],
    )
    with pytest.raises(SpecError, match="make it as several pieces"):
        estimate(spec_from_dict(vast))


def test_the_range_comes_from_fill_and_from_five_per_cent_of_diameter():
    count = estimate(spec_from_dict(plain_garland())).count
    assert isclose(count.least.base / count.likely.base, 0.685 / 0.70 / 1.05**3)
    assert isclose(count.most.base / count.likely.base, 0.715 / 0.70 / 0.95**3)


@pytest.mark.parametrize(
    ("count", "up", "down"),
    [(7.0, 7, 7), (7.2, 8, 7), (7 + 1e-12, 7, 7), (7 - 1e-12, 7, 7), (-3, 0, 0)],
)
def test_rounding_forgives_what_floats_lose(count, up, down):
    assert (whole_up(count), whole_down(count)) == (up, down)
