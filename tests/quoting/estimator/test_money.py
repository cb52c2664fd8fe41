from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quoting.estimator.money import round_cents, share_bp, split_exactly


@pytest.mark.parametrize(
    ("amount", "cents"),
    [("0.4", 0), ("0.5", 1), ("1.5", 2), ("2.5", 3), ("-0.5", -1), ("-0.4", 0), ("72.5", 73)],
)
def test_half_a_cent_goes_up(amount, cents):
    assert round_cents(Decimal(amount)) == cents


def test_basis_points_of_an_amount():
    assert share_bp(1000, 725) == 73


@pytest.mark.parametrize(
    ("total", "weights", "parts"),
    [
        (100, [1, 1, 1], (34, 33, 33)),
        (101, [1, 1], (51, 50)),
        (10, [6, 6, 2], (4, 4, 2)),
        (-100, [1, 1, 1], (-34, -33, -33)),
        (7, [0, 0], (4, 3)),
        (0, [3, 4], (0, 0)),
    ],
)
def test_a_split_loses_nothing(total, weights, parts):
    assert split_exactly(total, weights) == parts


@given(st.integers(-(10**9), 10**9), st.lists(st.integers(0, 10**6), min_size=1, max_size=9))
def test_every_split_adds_up_and_is_within_a_cent_of_its_share(total, weights):
    parts = split_exactly(total, weights)
    assert sum(parts) == total
    if sum(weights):
        quotas = [Decimal(total) * weight / sum(weights) for weight in weights]
        assert all(abs(part - quota) < 1 for part, quota in zip(parts, quotas, strict=True))


def test_there_must_be_something_to_split_among():
    with pytest.raises(ValueError, match="nothing to split"):
        split_exactly(5, [])
