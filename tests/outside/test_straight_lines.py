"""Straight lines over the Earth against published distances."""

import pytest

from decor.calendar.driving import EARTH_RADIUS_M, straight_line_m
from decor.models.located import Coordinates


def test_nashville_to_los_angeles():
    """Rosetta Code, "Haversine formula": 36.12, -86.67 to 33.94, -118.40 on a sphere of 6371.0 km
    is 2886.44444283798 km. Ours has the mean radius 6371.0088 km, so the arc is compared; a
    millimetre is what ten digits of it give."""
    found = straight_line_m(Coordinates(36.12, -86.67), Coordinates(33.94, -118.40))
    assert found / EARTH_RADIUS_M * 6_371_000 == pytest.approx(2_886_444.44283798, abs=0.001)


@pytest.mark.parametrize(
    ("a", "b", "degrees"),
    [
        ((0, 0), (0, 90), 90),
        ((0, 0), (0, 180), 180),  # antipodes: the root of a number that may round above 1
        ((90, 0), (-90, 0), 180),
        ((10, 179.5), (10, -179.5), None),
        ((43.66, -70.26), (43.66, -70.26), 0),
    ],
)
def test_arcs_whose_length_is_known_without_a_formula(a, b, degrees):
    """A quarter, half and none of the circle; over the date line it is short, not round the
    world: less than one degree along the equator."""
    found = straight_line_m(Coordinates(*a), Coordinates(*b))
    one_degree = EARTH_RADIUS_M * 3.141592653589793 / 180
    if degrees is None:
        assert 0 < found < one_degree
    else:
        assert found == pytest.approx(degrees * one_degree, abs=0.01)
