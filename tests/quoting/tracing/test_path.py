from math import dist, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quoting.estimator import estimate, example_catalogue, spec_from_dict
from quoting.estimator.tracing import (
    DEPTH_NOT_SEEN,
    MOST_TAPS,
    SQUARE_ON,
    UNSURE,
    TraceError,
    plane_from_length,
    plane_from_rectangle,
    trace,
)
from tests.quoting.estimator.garlands import garland
from tests.quoting.tracing.camera import Camera, rectangle

PHOTO = (4000, 3000)
SQUARE = [(1500.0, 500.0), (2500.0, 500.0), (2500.0, 2500.0), (1500.0, 2500.0)]
SWAG = [(1000.0, 400.0), (2000.0, 700.0), (3000.0, 400.0)]


def door(corners=SQUARE, *, width_m=1.0, height_m=2.0, mark_sd_px=6.0):
    return plane_from_rectangle(
        corners, width_m=width_m, height_m=height_m, photo_px=PHOTO, mark_sd_px=mark_sd_px
    )


def refused(plane, taps):
    with pytest.raises(TraceError) as found:
        trace(plane, taps)
    return [(problem.key, problem.message) for problem in found.value.problems]


def test_a_path_tapped_square_on_has_its_plain_length():
    found = trace(door(), SWAG)
    # A thousand pixels are a metre here.
    assert found.length_m == pytest.approx(2 * (1.0**2 + 0.3**2) ** 0.5)
    assert found.points_m[1] == pytest.approx((0.5, 0.0, 1.8))


def test_the_points_are_a_drape_that_the_estimator_takes_as_it_is():
    found = trace(door(), SWAG)
    path = {"kind": "drape", "points_m": [list(point) for point in found.points_m]}
    spec = spec_from_dict(garland(path=path), catalogue=example_catalogue())
    assert estimate(spec).path_length_m == pytest.approx(found.length_m)


def test_the_height_of_the_path_is_up_in_the_drape():
    heights = [up for _, _, up in trace(door(), SWAG).points_m]
    assert heights == pytest.approx([2.1, 1.8, 2.1])


@pytest.mark.parametrize(
    ("taps", "message"),
    [
        ([], "tap 2 to 200 points of the path, not 0"),
        ([(10, 10)], "tap 2 to 200 points of the path, not 1"),
        ([(i, 10) for i in range(MOST_TAPS + 1)], "tap 2 to 200 points of the path, not 201"),
        ([(2000, 500), (2000, 510)], "the path is 0.01 m long: it must be 0.3 to 100 m"),
        ([(2000, 500), (2000, 500)], "the path is 0.00 m long: it must be 0.3 to 100 m"),
    ],
)
def test_a_path_of_too_little_or_too_much_is_refused(taps, message):
    assert refused(door(), taps) == [("taps", message)]


def test_a_path_too_long_for_a_garland_is_refused():
    huge = door(width_m=50.0, height_m=50.0)
    assert refused(huge, [(0, 1500), (4000, 1500)])[0][1].startswith("the path is 200.00 m long")


@pytest.mark.parametrize("bad", [(nan, 5), (4000.5, 5), (5, -0.5)])
def test_a_tap_outside_the_photo_is_named(bad):
    found = refused(door(), [(10, 10), bad])
    assert found == [
        ("taps[1]", "tap 2 must lie in the photo: 0 to 4000 across and 0 to 3000 down")
    ]


def test_a_tap_beyond_the_horizon_is_named():
    camera = Camera(yaw=60, away_m=4, aim_m=(0.0, 1.0), focal_px=2000)
    corners = camera.pixels(rectangle(0.9, 2.0)).tolist()
    plane = door(corners, width_m=0.9)
    keys = {key for edge in (0, 4000) for key, _ in horizon_problems(plane, corners, edge)}
    assert keys == {"taps[1]"}


def horizon_problems(plane, corners, edge):
    try:
        trace(plane, [corners[0], (edge, 1500)])
    except TraceError as found:
        return [(each.key, each.message) for each in found.problems if "horizon" in each.message]
    return []


def test_depth_is_always_said_not_to_be_seen():
    assert trace(door(), SWAG).cautions == (DEPTH_NOT_SEEN,)
    by_length = plane_from_length([(0, 0), (0, 2000)], length_m=2, photo_px=PHOTO)
    assert trace(by_length, SWAG).cautions == (SQUARE_ON, DEPTH_NOT_SEEN)


def test_a_small_far_rectangle_makes_the_length_unsure():
    small = [(3800.0, 2700.0), (3860.0, 2700.0), (3860.0, 2820.0), (3800.0, 2820.0)]
    found = trace(door(small, width_m=0.15, height_m=0.3), SWAG)
    assert found.length_sd_m > 0.1 * found.length_m
    assert UNSURE in found.cautions


def test_marks_without_error_leave_no_uncertainty():
    assert trace(door(mark_sd_px=0), SWAG).length_sd_m == 0


@given(st.floats(0.5, 20))
def test_uncertainty_grows_in_step_with_the_marks_error(times):
    once, more = (trace(door(mark_sd_px=sd), SWAG).length_sd_m for sd in (1.0, times))
    # 0.1 %: the central differences' own step grows with it.
    assert more == pytest.approx(times * once, rel=1e-3)


def test_a_larger_rectangle_makes_the_length_surer():
    small = [(1900.0, 900.0), (2100.0, 900.0), (2100.0, 1300.0), (1900.0, 1300.0)]
    smaller = trace(door(small, width_m=0.2, height_m=0.4), SWAG)
    larger = trace(door(), SWAG)
    assert larger.length_m == pytest.approx(smaller.length_m)
    assert larger.length_sd_m < smaller.length_sd_m / 2


def test_one_length_has_the_uncertainty_of_its_two_ends():
    ends, length_px, sd = [(1000.0, 2000.0), (1000.0, 1000.0)], 1000.0, 5.0
    plane = plane_from_length(ends, length_m=1.0, photo_px=PHOTO, mark_sd_px=sd)
    taps = [(500.0, 1500.0), (3500.0, 1500.0)]
    # By hand: the scale errs by sd * sqrt(2) / 1000, and each tap by sd along the path.
    by_hand = (2 * (sd * 3.0 / length_px) ** 2 + 2 * (sd / length_px) ** 2) ** 0.5
    assert trace(plane, taps).length_sd_m == pytest.approx(by_hand, rel=1e-4)


TAPS = st.lists(st.tuples(st.floats(0, 4000), st.floats(0, 3000)), min_size=2, max_size=MOST_TAPS)


@given(TAPS)
def test_a_path_is_never_shorter_than_the_straight_way_and_is_the_same_from_either_end(taps):
    try:
        there, back = trace(door(), taps), trace(door(), taps[::-1])
    except TraceError as found:
        assert "the path is" in str(found)
        return
    assert there.length_m >= dist(there.points_m[0], there.points_m[-1]) - 1e-9
    assert back.length_m == pytest.approx(there.length_m)
    assert back.length_sd_m == pytest.approx(there.length_sd_m, rel=1e-6)
