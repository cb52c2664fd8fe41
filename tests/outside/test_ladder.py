"""The 4 to 1 rule, a ratio of lengths. Source: Minnesota Safety Council, from the rules of OSHA."""

import pytest

from quoting.estimator.ladder import (
    ABOVE_LANDING_M,
    foot_out_m,
    length_to_rest_at_m,
    rests_at_m,
)


@pytest.mark.parametrize(("length_ft", "foot_ft"), [(12, 3), (16, 4)])
def test_the_foot_is_a_quarter_of_the_working_length_out(length_ft: float, foot_ft: float) -> None:
    assert foot_out_m(length_ft) == foot_ft


def test_sixteen_feet_reach_fifteen_and_a_half() -> None:
    """15.492 ft, by Pythagoras; half of the last digit."""
    assert rests_at_m(16) == pytest.approx(15.492, abs=5e-4)


def test_foot_and_height_make_the_length_again() -> None:
    length = length_to_rest_at_m(3.0)

    assert rests_at_m(length) == pytest.approx(3.0)
    assert foot_out_m(length) ** 2 + 3.0**2 == pytest.approx(length**2)


def test_rails_stand_three_feet_above_a_landing() -> None:
    assert pytest.approx(3 * 0.3048) == ABOVE_LANDING_M
