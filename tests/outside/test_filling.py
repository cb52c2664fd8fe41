"""Counts and volumes against what decorators and physicists publish."""

from math import pi, sqrt
from statistics import median

import pytest

from quoting.estimator import constants as c
from quoting.estimator.filling import balloon_volume

from .filling_table import CUBIC_FOOT_M3, TABLE, report


def test_the_fill_lies_between_random_close_and_densest_packing():
    """MathWorld, "Sphere Packing": 0.64 and pi / sqrt(18) = 0.74048."""
    assert pytest.approx(0.74048, abs=1e-5) == pi / sqrt(18)
    assert c.FILL.value - c.FILL_SPREAD.value > 0.64
    assert c.FILL.value + c.FILL_SPREAD.value < pi / sqrt(18)


@pytest.mark.parametrize("row", TABLE, ids=lambda row: row.what)
def test_counts_lie_where_published_ones_do(row):
    """The source of each stands beside it in the table."""
    assert row.least <= row.ours() <= row.most


def test_the_table_prints_ours_theirs_and_their_ratio():
    head, *rows = report()
    assert head.split()[:4] == ["what", "ours", "theirs", "ratio"]
    assert len(rows) == len(TABLE)
    assert all(f"{row.ratio:.2f}" in line for row, line in zip(TABLE, rows, strict=True))


def test_counts_lean_no_one_way_by_more_than_makers_differ():
    """The middle ratio of all published counts of garlands, each source having its own habits."""
    assert median(row.ratio for row in TABLE[:14]) == pytest.approx(1, abs=0.10)


@pytest.mark.parametrize(
    ("diameter_in", "cubic_feet"),
    [(5, 0.03788), (9, 0.22089), (11, 0.40330), (16, 1.24112), (24, 4.18879)],
)
def test_volumes_of_spheres(diameter_in, cubic_feet):
    """pi / 6 d^3, recomputed independently; five decimals noted."""
    ours = balloon_volume((diameter_in, diameter_in)) / CUBIC_FOOT_M3
    assert ours == pytest.approx(cubic_feet, abs=5.1e-6)


def test_a_printed_chart_is_wrong_about_eleven_inches():
    """A balloon volume chart prints 674.76 cubic inches for 11 in; it is 696.91."""
    cubic_inches = balloon_volume((11, 11)) / c.METRES_PER_INCH**3
    assert cubic_inches == pytest.approx(696.91, abs=0.005)
    assert abs(cubic_inches - 674.76) > 20
