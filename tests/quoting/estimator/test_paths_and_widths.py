from itertools import pairwise
from math import inf, isclose, pi

import pytest
from scipy.integrate import quad

from quoting.estimator.paths import catenary_length, is_closed, path_length, path_top
from quoting.estimator.spec import Arch, Drape, Line, Posts, Ring, Station
from quoting.estimator.widths import face_area, places, width_squared

UNEVEN = (Station(0, 0.4), Station(0.3, 0.9), Station(0.3001, 0.5), Station(1, 0.2))


@pytest.mark.parametrize(
    ("path", "length"),
    [
        (Line(2.5), 2.5),
        (Posts(2, 3), 8),
        (Ring(1), pi),
        (Arch(2, 1), pi),
        (Drape(((0, 0, 0), (3, 4, 0), (3, 4, 12))), 17),
    ],
)
def test_lengths_that_can_be_told_by_hand(path, length):
    assert isclose(path_length(path), length, rel_tol=1e-12)


@pytest.mark.parametrize("span", [0.3, 1, 8, 100])
def test_a_swag_with_hardly_any_sag_is_as_long_as_its_span(span):
    assert isclose(catenary_length(span, 0.01 * span), span * (1 + 8 / 3 * 1e-4), rel_tol=1e-6)


def test_a_very_deep_swag_is_down_and_up_again():
    assert 2 * 50 < catenary_length(0.5, 50) < 2 * 50 + 0.5


def test_only_a_ring_has_no_ends():
    assert is_closed(Ring(1))
    assert not is_closed(Line(1))


def test_a_path_knows_its_own_top():
    assert path_top(Arch(2, 3)) == 3
    assert path_top(Drape(((0, 0, 1), (1, 0, 2.7)))) == 2.7
    assert path_top(Line(4)) == 0


def _width_at(fraction: float) -> float:
    for p, q in pairwise(UNEVEN):
        if fraction <= q.at:
            return p.width_m + (q.width_m - p.width_m) * (fraction - p.at) / (q.at - p.at)
    return inf


@pytest.mark.parametrize(("integral", "power"), [(face_area, 1), (width_squared, 2)])
def test_widths_are_integrated_exactly(integral, power):
    """Against scipy.integrate.quad, told where the corners are."""
    corners = [station.at for station in UNEVEN[1:-1]]
    expected, _ = quad(lambda s: _width_at(s) ** power, 0, 1, points=corners, epsabs=1e-13)
    assert isclose(integral(3.0, UNEVEN), 3.0 * expected, rel_tol=1e-10)


@pytest.mark.parametrize("power", [0, 1, 2])
def test_places_stand_in_the_middle_of_equal_parts_of_the_integral(power):
    corners = [station.at for station in UNEVEN[1:-1]]
    whole, _ = quad(lambda s: _width_at(s) ** power, 0, 1, points=corners)
    for i, at in enumerate(places(7, UNEVEN, power=power)):
        before, _ = quad(lambda s: _width_at(s) ** power, 0, at, points=corners)
        assert isclose(before / whole, (i + 0.5) / 7, rel_tol=1e-6)


def test_on_an_even_width_places_are_evenly_spaced():
    even = (Station(0, 0.5), Station(1, 0.5))
    assert places(4, even, power=2) == pytest.approx([0.125, 0.375, 0.625, 0.875])
