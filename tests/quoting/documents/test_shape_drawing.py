"""The outline on the quote is to scale: its marks and its points are what the spec says."""

import re
from itertools import pairwise
from math import dist

import pytest

from quoting.documents.measures import measures_of
from quoting.documents.shape_drawing import (
    BOX_HEIGHT,
    BOX_WIDTH,
    SAMPLES,
    extent_of,
    points_along,
    shape_drawing,
)
from quoting.estimator import Spec, spec_from_dict
from quoting.estimator.paths import path_length
from quoting.estimator.spec import Arch, Drape, Line, Path, Posts, Ring, Swag
from tests.factories import arch_spec

PATHS = [
    Line(length_m=3.0),
    Arch(width_m=2.4, height_m=2.1),
    Posts(width_m=3.0, height_m=2.4),
    Swag(span_m=4.2, sag_m=0.9),
    Ring(diameter_m=2.0),
    Drape(points_m=((0, 0, 2.2), (1.2, 0, 1.6), (2.4, 0, 2.3))),
]


def spec_of(**changes: object) -> Spec:
    return spec_from_dict({**arch_spec(), **changes})


@pytest.mark.parametrize("path", PATHS, ids=lambda path: path.kind)
def test_the_drawn_line_is_as_long_as_the_path(path: Path) -> None:
    """Points on a curve make it shorter by under 0.1 % at 120 steps.

    A square corner is cut by at most 2 - sqrt(2) = 0.59 of a step, so two of them by under 1 %.
    """
    points = points_along(path)
    drawn = sum(dist(a, b) for a, b in pairwise(points))

    has_corners = isinstance(path, Posts | Drape)
    assert drawn == pytest.approx(path_length(path), rel=1e-2 if has_corners else 1e-3)


def test_a_swag_hangs_as_a_chain_and_not_as_a_parabola() -> None:
    """Span 100 m, 10 m dip: 102.619 m of cable (Cheney & Kincaid; recomputed with scipy).

    A parabola of the same span and dip is 102.606 m long and, a quarter of the way along, the chain
    lies 0.0242 m below it (worked by hand from y = a cosh(x / a), a = 126.632).
    """
    points = points_along(Swag(span_m=100.0, sag_m=10.0))
    low = min(z for _, z in points)
    across, up = min(points, key=lambda point: abs(point[0] + 25))
    parabola = low + 10 * (across / 50) ** 2

    assert max(z for _, z in points) - low == pytest.approx(10.0, abs=1e-3)
    assert sum(dist(a, b) for a, b in pairwise(points)) == pytest.approx(102.619, abs=2e-3)
    # The nearest point lies within half a metre of there; the gap differs by under 0.001.
    assert parabola - up == pytest.approx(0.0242, abs=1e-3)


def test_the_extent_is_from_balloon_edge_to_balloon_edge() -> None:
    extent = extent_of(spec_of(path={"kind": "line", "length_m": 3.0}, width=[[0, 0.4], [1, 0.4]]))

    assert extent.width_m == pytest.approx(3.4)
    assert extent.height_m == pytest.approx(0.4)


def test_what_stands_on_the_ground_does_not_reach_below_it() -> None:
    extent = extent_of(
        spec_of(path={"kind": "posts", "width_m": 3.0, "height_m": 2.4}, width=[[0, 0.4], [1, 0.4]])
    )

    assert extent.low == 0
    assert extent.height_m == pytest.approx(2.6)
    assert extent.width_m == pytest.approx(3.4)


@pytest.mark.parametrize("path", PATHS, ids=lambda path: path.kind)
def test_every_shape_fits_its_box_and_says_its_extent(path: Path) -> None:
    spec = Spec(**{**vars(spec_of()), "path": path})
    extent = extent_of(spec)

    drawing = shape_drawing(spec, units="metric", title="Outline")

    assert drawing.across.text == f"{extent.width_m:.2f} m"
    assert drawing.upright.text == f"{extent.height_m:.2f} m"
    corners = re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", drawing.outline.replace("M", "L"))
    assert len(corners) == 2 * (SAMPLES + 1)
    assert all(-0.01 <= float(x) <= BOX_WIDTH + 0.01 for x, _ in corners)
    assert all(float(y) >= -0.01 for _, y in corners)
    assert drawing.height <= BOX_HEIGHT + 10


def test_the_measures_are_said_in_the_businesss_units() -> None:
    imperial = [measure.text for measure in measures_of(spec_of(), units="imperial")]
    metric = [measure.text for measure in measures_of(spec_of(), units="metric")]

    assert imperial == [
        "9 ft 3 in wide, 8 ft high",
        "17 ft 4 in along the garland",
        "1 ft 4 in to 2 ft 4 in",
    ]
    assert metric == ["2.81 m wide, 2.45 m high", "5.28 m along the garland", "0.40 m to 0.70 m"]


def test_an_even_garland_has_one_thickness() -> None:
    measures = measures_of(spec_of(width=[[0, 0.4], [1, 0.4]]), units="metric")

    assert measures[-1].text == "0.40 m"
