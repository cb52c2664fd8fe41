from itertools import permutations
from math import cos, inf, nan, radians, sin

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from quoting.estimator.tracing import (
    MARK_SD,
    SQUARE_ON,
    SWAPPED,
    TraceError,
    plane_from_length,
    plane_from_rectangle,
)
from tests.quoting.tracing.camera import Camera, rectangle

PHOTO = (4000, 3000)
SQUARE = [(1000.0, 500.0), (2000.0, 500.0), (2000.0, 2500.0), (1000.0, 2500.0)]


def door(corners=SQUARE, *, width_m=1.0, height_m=2.0, photo_px=PHOTO, **options):
    return plane_from_rectangle(
        corners, width_m=width_m, height_m=height_m, photo_px=photo_px, **options
    )


def refused(work, *args, **kwargs):
    with pytest.raises(TraceError) as found:
        work(*args, **kwargs)
    return [(problem.key, problem.message) for problem in found.value.problems]


def test_the_corners_become_the_rectangle_with_its_lower_left_at_nought():
    metres = door().to_metres(SQUARE)
    assert np.array(metres) == pytest.approx(np.array([(0, 2), (1, 2), (1, 0), (0, 0)]))


@pytest.mark.parametrize("order", list(permutations(range(4))))
def test_corners_may_be_tapped_in_any_order(order):
    seen = Camera(yaw=35, pitch=-10, roll=8).pixels(rectangle(0.9, 2.0)).tolist()
    tapped = [seen[i] for i in order]
    assert door(tapped).marks_px == pytest.approx(np.array(seen))


@pytest.mark.parametrize("i", range(4))
def test_a_corner_outside_the_photo_is_named(i):
    corners = [*SQUARE]
    corners[i] = (4001.0, 20.0)
    assert refused(door, corners) == [
        (
            f"corners[{i}]",
            f"corner {i + 1} must lie in the photo: 0 to 4000 across and 0 to 3000 down",
        )
    ]


@pytest.mark.parametrize("bad", [nan, inf, -inf, -1])
def test_no_number_is_no_corner(bad):
    keys = [key for key, _ in refused(door, [(bad, 10), (10, bad), *SQUARE[2:]])]
    assert keys == ["corners[0]", "corners[1]"]


def test_a_corner_in_line_with_two_others_is_named():
    in_line = [(1000, 500), (2000, 500), (1500, 500), (1000, 2500)]
    ((key, message),) = refused(door, in_line)
    assert key == "corners[2]"
    assert message.startswith("corner 3 lies in line with corners 1 and 2")


def test_a_corner_within_the_other_three_is_named():
    within = [(1000, 500), (1400, 1000), (2000, 500), (1500, 2500)]
    ((key, message),) = refused(door, within)
    assert key == "corners[1]"
    assert message.startswith("corner 2 lies in line with corners")


def test_four_corners_in_one_line_are_refused():
    line = [(500 * i, 400 * i) for i in (1, 2, 3, 4)]
    assert len(refused(door, line)) == 1


def test_two_corners_on_one_spot_are_named():
    same = [SQUARE[0], SQUARE[1], SQUARE[2], SQUARE[2]]
    assert refused(door, same) == [("corners[3]", "corners 3 and 4 are too near to each other")]


@pytest.mark.parametrize("count", [0, 3, 5])
def test_four_corners_are_needed(count):
    corners = [*SQUARE, (3000, 1000)][:count]
    assert refused(door, corners) == [("corners", f"must be four, not {count}")]


@pytest.mark.parametrize("size", [0, -1, 0.04, 50.1, nan, inf])
def test_impossible_sizes_are_refused_by_name(size):
    found = refused(door, width_m=size, height_m=size)
    assert [key for key, _ in found] == ["width_m", "height_m"]
    assert found[0][1] == "must be from 0.05 to 50 m"
    ends = [(0, 0), (1000, 0)]
    assert refused(plane_from_length, ends, length_m=size, photo_px=PHOTO) == [
        ("length_m", "must be from 0.05 to 50 m")
    ]


@pytest.mark.parametrize("sd", [-1, nan, inf])
def test_an_impossible_error_of_the_marks_is_refused(sd):
    assert refused(door, mark_sd_px=sd)[0][0] == "mark_sd_px"


def test_the_marks_error_follows_the_photo_s_size_when_nothing_is_said():
    assert door().mark_sd_px == MARK_SD * 4000
    assert door(mark_sd_px=3).mark_sd_px == 3


SLANTED = Camera(yaw=60, away_m=4, aim_m=(0.0, 1.0), focal_px=2000)


def horizon_x():
    """Where the wall's level lines meet: the image of its far right or left end."""
    far = SLANTED.pixels(np.array([(1e9, 1.0)])) * [1, 0]
    return float(far[0, 0])


def test_a_tap_at_or_beyond_the_horizon_is_named():
    corners = SLANTED.pixels(rectangle(0.9, 2.0)).tolist()
    plane = door(corners, width_m=0.9)
    beyond = horizon_x() + (100 if horizon_x() > 2000 else -100)
    inside = corners[0]
    for x in (horizon_x(), beyond):
        ((key, message),) = refused(plane.to_metres, [inside, (x, 1500.0)])
        assert key == "taps[1]"
        assert message.startswith("tap 2 lies at or beyond the horizon")


def test_a_point_behind_the_camera_is_named():
    corners = SLANTED.pixels(rectangle(0.9, 2.0)).tolist()
    plane = door(corners, width_m=0.9)
    for behind in ([(9.0, 1.0)], [(-9.0, 1.0)]):
        if SLANTED.depths(np.array(behind) + rectangle(0.9, 2.0)[3])[0] < 0:
            ((key, message),) = refused(plane.to_pixels, behind)
            assert (key, message) == (
                "points[0]",
                "point 1 of the plane lies behind the camera",
            )
            refused(plane.ellipse_at, behind[0], 0.1)
            return
    raise AssertionError("neither end of the wall is behind this camera")


def test_width_and_height_typed_the_wrong_way_round_are_noticed():
    assert door(width_m=1.0, height_m=2.0).cautions == ()
    assert door(width_m=2.0, height_m=1.0).cautions == (SWAPPED,)


@pytest.mark.parametrize("yaw", [-40, 0, 40])
def test_a_slant_alone_is_not_taken_for_a_swap(yaw):
    seen = Camera(yaw=yaw).pixels(rectangle(0.9, 2.0)).tolist()
    assert door(seen, width_m=0.9, height_m=2.0).cautions == ()


def test_a_length_gives_one_scale_with_up_as_up():
    plane = plane_from_length([(1000, 2000), (1000, 1000)], length_m=2.0, photo_px=PHOTO)
    assert np.array(plane.to_metres([(1000, 2000), (1500, 1000)])) == pytest.approx(
        np.array([(0, 0), (1, 2)])
    )
    assert plane.cautions == (SQUARE_ON,)


@given(st.floats(0, 360))
def test_a_length_may_lie_at_any_slant(angle):
    end = (2000 + 900 * cos(radians(angle)), 1500 + 900 * sin(radians(angle)))
    plane = plane_from_length([(2000, 1500), end], length_m=1.8, photo_px=PHOTO)
    ellipse = plane.ellipse_at((0.3, 0.4), 0.1)
    assert (ellipse.long_px, ellipse.short_px) == pytest.approx((50, 50))


@pytest.mark.parametrize(
    ("ends", "key"),
    [([(5, 5)], "ends"), ([(5, 5), (6, 5)], "ends[1]"), ([(5, 5), (nan, 9)], "ends[1]")],
)
def test_a_length_needs_two_places_apart(ends, key):
    assert refused(plane_from_length, ends, length_m=1.0, photo_px=PHOTO)[0][0] == key


@given(
    st.lists(
        st.tuples(st.floats(0, 4000), st.floats(0, 3000)),
        min_size=4,
        max_size=4,
    )
)
def test_any_four_places_make_a_plane_that_keeps_them_or_are_refused(corners):
    try:
        plane = door(corners)
    except TraceError:
        return
    assert sorted(plane.marks_px) == sorted(corners)
    metres = np.array(plane.to_metres(plane.marks_px, key="corners"))
    # 1e-6 of a metre: the flattest corners that are let through.
    assert metres == pytest.approx(np.array([(0, 2), (1, 2), (1, 0), (0, 0)]), abs=1e-6)
