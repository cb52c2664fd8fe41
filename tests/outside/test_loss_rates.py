"""The Beta posterior of a loss rate against worked examples and scipy's own distribution."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate, stats

from quoting.estimator.learning.beta import Beta, beta_around

FLAT = Beta(1, 1)


def test_seven_of_ten_with_a_flat_prior() -> None:
    """Beta(8, 4), mean 2/3, P(p > 1/2) = .88672: a textbook's example, the chance computed anew
    as the binomial sum of Beta(8, 4) at 1/2: 1816 / 2048."""
    posterior = FLAT.after(hits=7, tries=10)

    assert posterior == Beta(8, 4)
    assert posterior.mean == pytest.approx(2 / 3)
    assert posterior.chance_above(0.5) == pytest.approx(1816 / 2048)  # exact, to rounding
    assert posterior.chance_above(0.5) == pytest.approx(0.88672, abs=5e-6)  # as printed


def test_the_coin_of_think_bayes() -> None:
    """140 heads, 110 tails, flat prior: Beta(141, 111), mean .559524, 90 % within .508 to .611.

    Source: Downey, Think Bayes (the numbers from memory); tolerances are half of the last digit.
    """
    posterior = FLAT.after(hits=140, tries=250)

    assert posterior == Beta(141, 111)
    assert posterior.mean == pytest.approx(0.559524, abs=5e-7)
    low, high = posterior.interval(0.90)
    assert (low, high) == (pytest.approx(0.508, abs=5e-4), pytest.approx(0.611, abs=5e-4))


def test_thirty_of_720_lost() -> None:
    """720 bought, 690 placed, 4.2 %: an engineer's blog, 2005. A flat prior hardly moves it."""
    assert FLAT.after(hits=30, tries=720).mean == pytest.approx(0.042, abs=1e-3)


@given(st.integers(0, 400), st.integers(0, 400), st.sampled_from([0.5, 0.9, 0.95]))
def test_intervals_and_chances_are_scipys(hits: int, misses: int, share: float) -> None:
    ours = FLAT.after(hits=hits, tries=hits + misses)
    theirs = stats.beta(1 + hits, 1 + misses)

    assert ours.interval(share) == pytest.approx(theirs.interval(share))
    assert ours.chance_above(0.04) == pytest.approx(theirs.sf(0.04), abs=1e-12)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        (Beta(8, 4), Beta(1, 1)),
        (Beta(9.8, 44.2), Beta(2.8, 77.2)),
        (Beta(0.8, 19.2), Beta(30, 700)),
    ],
)
def test_the_chance_of_being_worse_is_the_double_integral(one: Beta, other: Beta) -> None:
    """P(X > Y) by adaptive quadrature; ours is a midpoint sum, good to a thousandth, and the
    pages show tenths of a per cent."""
    x, y = stats.beta(one.a, one.b), stats.beta(other.a, other.b)
    exact, _ = integrate.quad(lambda value: x.pdf(value) * y.cdf(value), 0, 1, limit=200)

    assert one.chance_above_other(other) == pytest.approx(exact, abs=1e-3)


def test_the_spread_is_scipys() -> None:
    one, other = Beta(9.8, 44.2), Beta(2.8, 77.2)
    spread = stats.beta(9.8, 44.2).var() + stats.beta(2.8, 77.2).var()

    assert one.standard_distance(other) == pytest.approx((one.mean - other.mean) / spread**0.5)


def test_a_prior_has_its_mean_and_weighs_as_many_tries() -> None:
    prior = beta_around(0.04, weight=20)

    assert prior.mean == pytest.approx(0.04)
    assert prior.after(hits=10, tries=100).mean == pytest.approx((0.8 + 10) / 120)


@pytest.mark.parametrize(("hits", "tries"), [(3, 2), (-1, 5)])
def test_a_count_that_cannot_be_is_refused(hits: int, tries: int) -> None:
    with pytest.raises(ValueError):
        FLAT.after(hits=hits, tries=tries)
