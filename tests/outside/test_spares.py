"""Spares against scipy's binomial, and default losses against an observed job."""

import pytest
from scipy.stats import binom, binomtest

from quoting.estimator import constants as c
from quoting.estimator.spares import order_quantity


@pytest.mark.parametrize(
    ("need", "survive", "confidence", "order"),
    [
        # scipy.stats.binom, computed independently
        (100, 0.95, 0.95, 109),
        (100, 0.90, 0.95, 117),
        (100, 0.98, 0.95, 105),
        (100, 0.95, 0.99, 111),
        (10, 0.90, 0.95, 13),
    ],
)
def test_known_orders(need, survive, confidence, order):
    assert order_quantity(need, 1 - survive, confidence) == order


@pytest.mark.parametrize("need", [1, 2, 3, 8, 12, 36, 100, 731, 5000, 120_000])
@pytest.mark.parametrize("loss", [0.001, 0.04, 0.08, 0.12, 0.5])
@pytest.mark.parametrize("confidence", [0.5, 0.8, 0.95, 0.99])
def test_the_smallest_order_that_is_enough_often_enough(need, loss, confidence):
    order = order_quantity(need, loss, confidence)

    def chance_of_enough(n: int) -> float:
        return binom.sf(need - 1, n, 1 - loss)

    # 1e-9: what the sums of either side can lose to rounding, no more.
    assert chance_of_enough(order) >= confidence - 1e-9
    if order > need:
        assert chance_of_enough(order - 1) < confidence + 1e-9


def test_overbooking_is_the_same_sum_seen_from_the_other_side():
    """NRICH, "Over-booking": 400 seats, show-up 0.95, refuse at most 2 %: sell 412, not 413.

    Too many show up when 401 do; an order of n to get 401 with 2 % chance is one ticket
    too many.
    """
    assert binom.sf(400, 412, 0.95) < 0.02 < binom.sf(400, 413, 0.95)
    assert order_quantity(401, 0.05, 0.02) == 413


def test_the_default_loss_agrees_with_a_job_that_was_counted():
    """An engineer's blog, 2005: 720 bought, about 30 burst, 690 placed."""
    assert binomtest(30, 720, c.LOSS_LATEX.value).pvalue > 0.05


def test_a_dozen_foil_points_usually_lose_one_or_two():
    """Common practice, no source: one or two points of a set of twelve fail."""
    expected = 12 * c.LOSS_FOIL.value
    assert 1 <= expected <= 2
