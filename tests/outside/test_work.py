"""Hours against what decorators publish. Bands of 20 %, as hands differ."""

import pytest

from quoting.estimator import UnitTimes
from quoting.estimator.hours import elapsed_hours

TIMES = UnitTimes()


def test_a_hundred_eleven_inch_alone():
    """balloonhq.com: 100 inflated and tied in 20 minutes."""
    assert 100 * TIMES.inflate_11_s == 20 * 60


def test_a_hundred_eleven_inch_as_a_pair():
    """balloonhq.com: 12 minutes as a pair."""
    minutes = elapsed_hours(100 * TIMES.inflate_11_s / 3600, 2, TIMES) * 60
    assert minutes == pytest.approx(12, rel=0.20)


def test_an_arch_of_24_fours():
    """balloon-decoration-guide.com: 96 balloons in 24 clusters, about 30 minutes for one."""
    minutes = (96 * TIMES.inflate_11_s + 24 * TIMES.twist_four_s) / 60
    assert minutes == pytest.approx(30, rel=0.20)
