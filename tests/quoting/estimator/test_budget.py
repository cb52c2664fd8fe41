from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from quoting.estimator import (
    Discount,
    ExtraLine,
    OrderConditions,
    Rates,
    SpecError,
    estimate,
    price_order,
    spec_from_dict,
    spec_to_dict,
)
from quoting.estimator.budget import BudgetTooSmall, fit_budget, scaled
from quoting.estimator.budget.scaling import scale_limits

from .garlands import garland, plain_garland, specs

COARSE = 0.05
BUDGETS = st.integers(15_000, 200_000)
WAYS = st.sampled_from(("width", "length"))


def total_at(spec, by, scale) -> int | None:
    try:
        return estimate(scaled(spec, by, scale)).price.total_cents
    except SpecError:
        return None


def every_step(spec, by) -> list[tuple[float, int]]:
    low, high = scale_limits(spec, by)
    steps = range(1, int(min(high, 4) / COARSE) + 1)
    tried = ((n * COARSE, total_at(spec, by, n * COARSE)) for n in steps if n * COARSE >= low)
    return [(scale, total) for scale, total in tried if total is not None]


@given(specs(), WAYS, BUDGETS)
@settings(max_examples=20)
def test_bisection_finds_what_trying_every_step_finds(spec, by, budget):
    tried = every_step(spec, by)
    if not tried:
        return
    affordable = [scale for scale, total in tried if total <= budget]
    if not affordable:
        with pytest.raises(BudgetTooSmall) as refused:
            fit_budget(spec, budget, by=by, step=COARSE)
        assert refused.value.smallest_cents == min(total for _, total in tried)
        return
    fit = fit_budget(spec, budget, by=by, step=COARSE)
    assert fit.price.total_cents <= budget
    if fit.scale < 4 - COARSE:  # as far as every step was tried
        assert fit.scale == pytest.approx(max(affordable))


@given(specs(), WAYS)
@settings(max_examples=20)
def test_the_price_never_falls_while_a_piece_grows(spec, by):
    totals = [total for _, total in every_step(spec, by)]
    assert all(before <= after for before, after in pairwise(totals))


@given(specs(), WAYS, BUDGETS)
@settings(max_examples=40)
def test_a_fitted_spec_is_still_a_spec(spec, by, budget):
    try:
        fit = fit_budget(spec, budget, by=by)
    except (BudgetTooSmall, SpecError):
        return
    assert spec_from_dict(spec_to_dict(fit.spec)) == fit.spec
    assert fit.made.price.total_cents == fit.price.total_cents <= budget
    assert fit.left_cents >= 0


def fit_arch(total_cents, **changes):
    return fit_budget(spec_from_dict(garland()), total_cents, **changes)


def test_what_is_left_over_would_not_buy_the_next_cluster():
    """One step fuller costs more than the budget: a cluster's worth, or a rounding step."""
    fit = fit_arch(25_000)
    assert total_at(spec_from_dict(garland()), "width", fit.scale + 0.0001) > 25_000


def test_it_says_what_changed_in_either_system_of_units():
    fit = fit_arch(25_000)
    metric, imperial = fit.said(), fit.said(units="imperial", money=lambda cents: f"${cents / 100}")
    assert metric.startswith("Its width is 70.5 % of what was asked: width at its widest 0.49 m")
    assert "width at its widest 1 ft 7 in, 8 in narrower" in imperial
    assert "79 fewer" in metric
    assert "the total with tax is 247.93, 2.07 within the budget." in metric
    assert "$247.93" in imperial


def test_a_larger_budget_makes_a_fuller_piece():
    fit = fit_arch(60_000)
    assert fit.scale > 1
    assert "wider" in fit.said()


def test_a_budget_of_the_asked_price_keeps_all_that_was_asked():
    asked = estimate(spec_from_dict(garland())).price.total_cents
    fit = fit_arch(asked)
    assert fit.scale >= 1
    assert fit.price.total_cents == asked


def test_a_budget_below_the_smallest_version_is_refused_with_its_price():
    with pytest.raises(BudgetTooSmall) as refused:
        fit_arch(1_000)
    smallest = refused.value.smallest_cents
    assert fit_arch(smallest).price.total_cents == smallest
    assert f"costs at least {smallest / 100:.2f} with tax" in str(refused.value)
    with pytest.raises(BudgetTooSmall):
        fit_arch(smallest - 1)


def test_width_is_not_cut_below_one_of_its_own_balloons():
    spec = spec_from_dict(plain_garland())
    with pytest.raises(BudgetTooSmall):
        fit_budget(spec, 100)
    low, high = scale_limits(spec, "width")
    assert low * 0.5 == pytest.approx(9 * 0.0254)
    assert high * 0.5 == pytest.approx(3.0)


def test_length_is_kept_between_the_limits_of_a_path():
    assert scale_limits(spec_from_dict(plain_garland()), "length") == pytest.approx((0.1, 100 / 3))


def test_a_piece_with_no_room_for_its_base_is_enlarged_until_there_is():
    singles = {"per_m": 8, "colours": ["oat"]}
    spec = spec_from_dict(plain_garland(singles=singles))
    with pytest.raises(SpecError):
        estimate(spec)
    fit = fit_budget(spec, 300_000)
    assert fit.asked is None
    assert fit.scale > 1


def test_accents_that_fill_every_size_are_refused_as_a_spec():
    accents = [{"colour": "marigold", "inflated_in": [11, 11], "share": 1}]
    with pytest.raises(SpecError, match="no room for base"):
        fit_budget(spec_from_dict(plain_garland(accents=accents)), 300_000)


def test_one_piece_of_an_order_is_fitted_with_the_others_kept():
    rates, conditions = Rates(), OrderConditions(lead_days=5, strike=True)
    other = estimate(spec_from_dict(plain_garland()), rates=rates, conditions=conditions)
    extra, discount = ExtraLine(label="vase", amount_cents=2_000), Discount(label="kind", bp=500)
    spec = spec_from_dict(garland(travel=None))
    fit = fit_budget(
        spec,
        60_000,
        rates=rates,
        conditions=conditions,
        others=[other],
        extra_lines=[extra],
        discount=discount,
    )
    priced = price_order(
        [other, fit.made],
        rates=rates,
        conditions=conditions,
        extra_lines=[extra],
        discount=discount,
    )
    assert fit.price == priced
    assert priced.total_cents <= 60_000
    assert any(line.kind == "discount" for line in priced.lines)
