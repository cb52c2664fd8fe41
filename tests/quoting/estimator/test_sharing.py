import pytest
from hypothesis import given
from hypothesis import strategies as st

from quoting.estimator import webster

shares = st.lists(st.integers(0, 100), min_size=1, max_size=6).filter(any)


def one_seat_at_a_time(total: int, weights: list[int]) -> tuple[int, ...]:
    seats = [0] * len(weights)
    for _ in range(total):
        best = max(range(len(seats)), key=lambda i: weights[i] / (2 * seats[i] + 1))
        seats[best] += 1
    return tuple(seats)


@pytest.mark.parametrize(
    ("total", "given_shares", "expected"),
    [
        (0, [0.5, 0.5], (0, 0)),
        (1, [0.5, 0.5], (1, 0)),
        (10, [0.6, 0.4], (6, 4)),
        (7, [1, 1, 1], (3, 2, 2)),
        (8, [0.75, 0.25], (6, 2)),
        (5, [1], (5,)),
        (9, [0, 1, 2], (0, 3, 6)),
    ],
)
def test_whole_things_are_shared_in_proportion(total, given_shares, expected):
    assert webster(total, given_shares) == expected


@given(st.integers(0, 400), shares)
def test_the_short_cut_ends_where_one_seat_at_a_time_ends(total, weights):
    assert webster(total, weights) == one_seat_at_a_time(total, weights)


@given(st.integers(0, 3000), st.lists(st.floats(0.001, 1), min_size=1, max_size=8))
def test_one_more_to_share_never_takes_from_anyone(total, weights):
    before, after = webster(total, weights), webster(total + 1, weights)
    assert sum(before) == total
    assert all(a >= b for a, b in zip(after, before, strict=True))


def test_sharing_a_million_takes_few_steps():
    assert webster(10**9, [0.3, 0.7]) == (300_000_000, 700_000_000)


@pytest.mark.parametrize(("total", "weights"), [(-1, [1]), (3, [1, -1]), (3, [0, 0])])
def test_impossible_shares_are_refused(total, weights):
    with pytest.raises(ValueError, match="share"):
        webster(total, weights)
