"""How the balloons settle: pressed but not through each other, in order, on their sides."""

from random import Random

import numpy as np
import pytest

from quoting.estimator import estimate, spec_from_dict
from quoting.estimator.paths import path_length
from quoting.estimator.picture import picture
from quoting.estimator.picture.course import course_of
from quoting.estimator.picture.strung import strung
from tests.quoting.estimator.garlands import garland

from .pictured import overlaps, pictured, random_garland, random_pictures


def test_neighbours_press_into_each_other_by_no_more_than_stated():
    """Shares of the smaller diameter: never a half; for nineteen pairs in twenty, a quarter."""
    pressed = [overlaps(shown.picture) for shown in random_pictures() if shown.has_enough]
    assert max(each.max() for each in pressed) <= 0.5
    assert max(np.percentile(each, 95) for each in pressed) <= 0.25
    assert np.mean(np.concatenate(pressed)) <= 0.08


def test_everything_is_somewhere():
    for shown in random_pictures():
        numbers = [(b.x_m, b.y_m, b.z_m, b.diameter_m, b.shade) for b in shown.picture.balloons]
        assert np.isfinite(numbers).all()
        extent = shown.picture.extent
        for b in shown.picture.balloons:
            assert extent.left - 1e-9 <= b.x_m - b.diameter_m / 2
            assert b.y_m + b.diameter_m / 2 <= extent.high + 1e-9


def test_the_wall_presses_balloons_flat_by_less_than_a_third():
    for shown in random_pictures():
        if shown.estimate.spec.backing == "flat":
            rounds = [b for b in shown.picture.balloons if b.kind == "latex"]
            assert min(b.z_m / b.diameter_m for b in rounds) > 0.5 - 1 / 3


def test_balloons_are_drawn_from_the_back_to_the_front():
    for shown in random_pictures()[:12]:
        depths = [balloon.z_m for balloon in shown.picture.balloons]
        assert depths == sorted(depths)


def test_accent_bunches_sit_on_the_sides_that_the_string_says():
    """Along a level line, seen from the front, the left of someone walking it is up."""
    data = garland(path={"kind": "line", "length_m": 5}, width=[[0, 0.7], [1, 0.7]], singles=None)
    made = estimate(spec_from_dict(data))
    bunches = [item for item in made.string if item.what == "accent"]
    accents = [b for b in picture(made).balloons if b.use == "accent"]
    assert len({item.side for item in bunches}) == 2
    for item in bunches:
        near = sorted(accents, key=lambda b: abs(b.x_m - item.at * 5))[:4]
        height = np.mean([b.y_m for b in near])
        assert (height > 0.05) if item.side == "left" else (height < -0.05)


def test_accents_and_minis_are_in_front_of_the_middle():
    for shown in random_pictures():
        if shown.estimate.spec.backing == "free" and not shown.picture.unrolled:
            for use in ("accent", "filler"):
                depths = [b.z_m for b in shown.picture.balloons if b.use == use]
                assert not depths or np.mean(depths) > 0


def test_bands_of_colour_stay_in_the_order_of_the_string():
    base = [{"colour": "oat", "share": 0.5}, {"colour": "fern", "share": 0.5}]
    data = garland(path={"kind": "line", "length_m": 4}, base=base, pattern="banded", singles=None)
    shown = picture(estimate(spec_from_dict(data)))
    middles = {
        colour: np.mean([b.x_m for b in shown.balloons if (b.colour, b.use) == (colour, "base")])
        for colour in ("oat", "fern")
    }
    assert middles["oat"] < 2 < middles["fern"]
    assert middles["fern"] - middles["oat"] > 1.2


def test_a_cluster_stays_together_about_its_knot():
    """Within half the width and a neck; a tenth more where it is pressed."""
    for number in range(12):
        made = estimate(spec_from_dict(random_garland(number)))
        widest = max(station.width_m for station in made.spec.width)
        course = course_of(made.spec)
        knots = [k for k in strung(made, Random(number)) if k.item.what == "cluster"]
        points = course.points[course.index(np.array([k.item.at for k in knots]))]
        for b in picture(made).balloons:
            if b.use == "base":
                nearest = np.linalg.norm(points - (b.x_m, b.y_m, b.z_m), axis=1).min()
                assert nearest <= 1.1 * (widest / 2 + b.diameter_m)


def test_a_starburst_has_twelve_points_that_part_evenly():
    """The angle between neighbours of an icosahedron's corners is atan 2, 63.4 degrees."""
    data = garland(starbursts=[{"colour": "copper", "count": 2}])
    points = [b for b in pictured(data).picture.balloons if b.use == "starburst"]
    assert len(points) == 24
    for neck in {b.neck for b in points}:
        of_one = [b for b in points if b.neck == neck]
        assert len(of_one) == 12
        spots = np.array([(b.x_m - neck[0], b.y_m - neck[1], b.z_m) for b in of_one])
        spots[:, 2] -= spots[:, 2].mean()
        spots /= np.linalg.norm(spots, axis=1, keepdims=True)
        cosines = spots @ spots.T - 2 * np.eye(12)
        assert np.degrees(np.arccos(cosines.max(axis=1))) == pytest.approx(
            np.degrees(np.arctan(2)), abs=0.01
        )


@pytest.mark.parametrize("number", range(24))
def test_the_course_is_as_long_as_the_path_and_turns_its_corners_gently(number):
    spec = spec_from_dict(random_garland(number))
    course = course_of(spec)
    assert course.length_m == pytest.approx(path_length(spec.path), rel=1e-4)
    assert np.linalg.norm(course.ahead, axis=1) == pytest.approx(1)
    turns = np.einsum("ij,ij->i", course.ahead[1:], course.ahead[:-1])
    assert np.degrees(np.arccos(np.clip(turns, -1, 1))).max() < 20


def test_a_drape_seen_aslant_is_looked_at_square_on():
    slanted = {"kind": "drape", "points_m": [[0, 0, 1], [1.2, 0.9, 2], [2.4, 1.8, 1]]}
    course = course_of(spec_from_dict(garland(path=slanted)))
    assert not course.unrolled
    assert np.ptp(course.points[:, 0]) == pytest.approx(3.0)
    assert np.ptp(course.points[:, 2]) == pytest.approx(0, abs=1e-9)


def test_a_drape_round_a_corner_is_opened_flat():
    porch = {"kind": "drape", "points_m": [[0, 2, 1], [0, 0, 1], [3, 0, 1], [3, 2, 1]]}
    course = course_of(spec_from_dict(garland(path=porch)))
    assert course.unrolled
    assert np.ptp(course.points[:, 0]) == pytest.approx(7.0)
    back = {"kind": "drape", "points_m": [[0, 0, 2], [3, 0, 1], [0, 0.5, 0]]}
    assert np.ptp(course_of(spec_from_dict(garland(path=back))).points[:, 0]) < 3.1
