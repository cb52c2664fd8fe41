"""What is written into the piece's field reads back as the same place."""

from math import dist

import pytest
from hypothesis import given
from hypothesis import strategies as st

from decor.models.business import Units
from quoting.pieces.measures import PointsField
from quoting.traces.points_text import points_text

METRES = st.floats(-90, 90)
POINTS = st.lists(st.tuples(METRES, st.just(0.0), METRES), min_size=2, max_size=60)


@pytest.mark.parametrize(
    ("units", "text"),
    [
        (Units.METRIC, "0.000 m, 2.032 m\n-0.457 m, 1.000 m"),
        (Units.IMPERIAL, "0 ft 0 in, 6 ft 8 in\n-1 ft 6 in, 3 ft 3.4 in"),
    ],
)
def test_points_are_written_in_the_units_of_the_business(units, text):
    assert points_text(((-0.0001, 0, 2.032), (-0.4572, 0, 1.0)), units=units) == text


# A millimetre, or a tenth of an inch, is cut off by half of it at most in each direction.
@pytest.mark.parametrize(("units", "off_m"), [(Units.METRIC, 0.0008), (Units.IMPERIAL, 0.0019)])
@given(points=POINTS)
def test_what_is_written_reads_back_as_the_same_points(units, off_m, points):
    text = points_text(points, units=units)
    read = PointsField(units=units, max_m=100.0).clean(text)
    assert len(read) == len(points)
    assert all(dist(one, other) <= off_m for one, other in zip(read, points, strict=True))
