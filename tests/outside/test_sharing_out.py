"""Webster's method against voting-theory examples (texts, from memory; checked by hand)."""

from quoting.estimator import webster


def largest_remainder(total: int, shares: list[int]) -> tuple[int, ...]:
    quotas = [total * share / sum(shares) for share in shares]
    seats = [int(quota) for quota in quotas]
    by_rest = sorted(range(len(shares)), key=lambda i: seats[i] - quotas[i])
    for i in by_rest[: total - sum(seats)]:
        seats[i] += 1
    return tuple(seats)


def test_the_alabama_paradox_is_largest_remainders_and_not_ours():
    """Shares 6 : 6 : 2 lose a seat for the smallest as ten seats become eleven."""
    shares = [6, 6, 2]
    assert largest_remainder(10, shares) == (4, 4, 2)
    assert largest_remainder(11, shares) == (5, 5, 1)
    ten, eleven = webster(10, shares), webster(11, shares)
    assert all(after >= before for before, after in zip(ten, eleven, strict=True))


def test_seven_seats_among_53_24_23():
    """Worked by hand: divisors 1, 3, 5 give 53, 24, 23, 17.7, 10.6, 8, 7.7."""
    assert webster(7, [53, 24, 23]) == (3, 2, 2)
