"""What was lost after inflating, by item and lot, and what estimates make of it."""

from datetime import UTC, datetime

import pytest
from django.urls import reverse
from scipy.integrate import quad
from scipy.stats import beta

from inventory.catalogue.service import estimator_catalogue
from inventory.ledger.service import (
    bag_count,
    bag_lose,
    bag_lose_taken,
    bag_return,
    bag_take,
    bag_throw_away,
)
from inventory.losses.service import (
    LOTS_SHOWN,
    PRIOR_WEIGHT,
    ROUGH_SLICES,
    ROUGHLY,
    TRIED_ENOUGH,
    loss_of,
    loss_rates,
    losses,
    usual_loss,
)
from inventory.models import LedgerLine
from quoting.estimator import Catalogue, example_rates
from quoting.estimator.balloons import loss_rate
from quoting.estimator.learning.beta import beta_around
from quoting.estimator.spares import order_quantity
from tests.factories import BagFactory, ColourFactory, ItemFactory, JobFactory, SundryFactory
from tests.inventory.asking import queries_of

pytestmark = pytest.mark.django_db
NOW = datetime(2026, 6, 13, 15, 0, tzinfo=UTC)
BY_NOBODY = {"by": None, "now": NOW}


@pytest.fixture
def marigold():
    return ItemFactory(colour=ColourFactory(key="marigold"))


def used(item, *, lot: str, taken: int, lost: int):
    """A bag of that lot from which so many were taken, some of which did not last."""
    bag = BagFactory(item=item, lot=lot, printed_count=max(100, taken))
    job = JobFactory()
    if taken:
        bag_take(bag=bag, quantity=taken, job=job, **BY_NOBODY)
    if lost:
        bag_lose_taken(bag=bag, quantity=lost, reason="popped", job=job, **BY_NOBODY)
    return bag


def test_tried_is_what_left_the_bag_and_did_not_come_back(marigold):
    bag = used(marigold, lot="B1", taken=40, lost=3)
    bag_return(bag=bag, quantity=10, job=bag.lines.last().job, **BY_NOBODY)
    bag_lose(bag=bag, quantity=2, reason="leaked", job=None, **BY_NOBODY)
    bag_count(bag=bag, counted=60, why="miscounted", **BY_NOBODY)
    bag_throw_away(bag=bag, quantity=20, why="wet", **BY_NOBODY)

    loss = loss_of(marigold).loss

    # 40 taken less 10 back, and 2 straight out of the bag; counted and thrown away were not tried.
    assert (loss.tried, loss.lost) == (32, 5)
    straight = LedgerLine.objects.filter(kind__in=["taken", "returned", "lost"])
    assert loss.tried == -sum(line.quantity for line in straight)


def test_the_rate_is_the_usual_one_until_something_is_tried(marigold):
    BagFactory(item=marigold)
    assert losses() == []
    assert loss_of(marigold) is None
    # 0.04: 720 bought, 690 placed, 4.2 %: an engineer's blog, 2005
    assert usual_loss(marigold) == 0.04


def test_the_posterior_is_the_prior_of_twenty_balloons_and_what_was_seen(marigold):
    used(marigold, lot="B1", taken=60, lost=2)
    used(marigold, lot="B2", taken=34, lost=9)

    rate = loss_of(marigold).loss.rate

    # By hand: Beta(0.04 * 20 + 11, 0.96 * 20 + 83)
    assert (rate.a, rate.b) == (pytest.approx(11.8), pytest.approx(102.2))


def test_a_clearly_worse_lot_is_flagged_with_its_numbers(marigold, owner_client):
    used(marigold, lot="B1", taken=60, lost=2)
    used(marigold, lot="B2", taken=34, lost=9)

    (found,) = losses()

    assert [(lot.lot, lot.is_clearly_worse) for lot in found.lots] == [("B1", False), ("B2", True)]
    page = owner_client.get(reverse("loss_list")).text
    assert "Lot B2207" not in page
    assert "Lot B2 of Marigold 11-inch</strong>: 9 of 34 lost; of the other lots 2 of 60" in page
    assert "99.8 %" in page and "clearly worse" in page


@pytest.mark.parametrize(
    ("taken", "lost"),
    [(1, 1), (3, 1), (60, 4), (200, 12)],
    ids=["one of one", "one of three", "a little more", "as the others"],
)
def test_chance_is_not_blamed_on_a_lot(marigold, taken, lost):
    used(marigold, lot="B1", taken=200, lost=11)
    used(marigold, lot="B2", taken=taken, lost=lost)

    assert not losses()[0].worse_lots


def test_bags_without_a_lot_are_one_lot_and_sundries_are_not_inflated(marigold):
    used(marigold, lot="", taken=10, lost=1)
    used(marigold, lot="", taken=10, lost=0)
    used(SundryFactory(), lot="", taken=50, lost=0)

    (found,) = losses()

    assert [(lot.lot, lot.loss.tried, lot.loss.lost) for lot in found.lots] == [("", 20, 1)]


def test_estimates_take_an_items_own_rate_once_enough_were_tried(marigold):
    fern = ItemFactory(colour=ColourFactory(key="fern"))
    used(marigold, lot="B1", taken=TRIED_ENOUGH, lost=10)
    used(fern, lot="B1", taken=TRIED_ENOUGH - 1, lost=10)

    assert set(loss_rates([marigold, fern])) == {marigold.pk}
    catalogue = estimator_catalogue()
    own = of_colour(catalogue, "marigold").loss_rate
    assert own == pytest.approx((0.8 + 10) / 70)
    assert of_colour(catalogue, "fern").loss_rate is None


def test_spares_follow_the_rate(marigold):
    before = loss_rate(of_colour(estimator_catalogue(), "marigold"), example_rates())
    used(marigold, lot="B1", taken=100, lost=12)
    after = loss_rate(of_colour(estimator_catalogue(), "marigold"), example_rates())

    assert before == 0.04
    assert after == pytest.approx(12.8 / 120)
    # P(Binomial(n, 1 - p) >= 100) >= .95 (scipy.stats.binom): 108 for .04; 117 for .10
    assert order_quantity(100, before, 0.95) == 108
    assert order_quantity(100, after, 0.95) > 117


def test_the_page_says_what_to_do_before_anything_is_tried(owner_client):
    assert "Nothing tried yet" in owner_client.get(reverse("loss_list")).text


def test_the_page_asks_as_much_for_many_lots_as_for_one(marigold, owner_client):
    used(marigold, lot="B1", taken=10, lost=1)
    few = queries_of(owner_client, reverse("loss_list"))
    for key in ("fern", "plum", "oat"):
        item = ItemFactory(colour=ColourFactory(key=key))
        for lot in ("B1", "B2", "B3"):
            used(item, lot=lot, taken=10, lost=1)
    assert queries_of(owner_client, reverse("loss_list")) == few


def test_of_many_lots_those_that_lost_most_are_shown_and_all_on_a_page_of_their_own(
    marigold, owner_client
):
    for lot in range(9):
        used(marigold, lot=f"B{lot}", taken=30, lost=lot % 3)
    page = owner_client.get(reverse("loss_list")).text
    assert page.count("Lot B") == LOTS_SHOWN and "Lot B8" in page and "Lot B0" not in page
    own = reverse("loss_item", args=[marigold.pk])
    assert own in page and "All 9 lots" in page
    assert owner_client.get(own).text.count("Lot B") == 9
    untried = reverse("loss_item", args=[ItemFactory(colour=ColourFactory(key="oat")).pk])
    assert "Nothing of it was tried yet." in owner_client.get(untried).text


@pytest.mark.parametrize(("tried", "lost"), [(34, 9), (60, 6), (200, 20), (25, 3), (8, 2)])
def test_the_first_look_is_right_to_within_a_hundredth(tried, lost):
    others = beta_around(0.04, weight=PRIOR_WEIGHT).after(hits=40, tries=900)
    lot = beta_around(others.mean, weight=PRIOR_WEIGHT).after(hits=lost, tries=tried)
    rough = lot.chance_above_other(others, slices=ROUGH_SLICES)
    # scipy.integrate.quad: the chance that one Beta is above another, by its definition
    exact, _ = quad(lambda x: beta.pdf(x, lot.a, lot.b) * beta.cdf(x, others.a, others.b), 0, 1)
    assert rough == pytest.approx(exact, abs=ROUGHLY / 2)


def of_colour(catalogue: Catalogue, key: str):
    return next(item for item in catalogue.items if item.colour == key)
