"""What a card says about itself, and about the card before it."""

import pytest

from quoting.estimator import OrderConditions, RushTier, estimate, example_catalogue, spec_from_dict
from quoting.estimator.costs import COST_KINDS
from quoting.estimator.pricing import STEP_KINDS
from quoting.estimator.rates import CallingOffBand
from quoting.rate_cards import differences
from quoting.rate_cards.differences import card_differences
from quoting.rate_cards.folds import card_summary, rush_text
from quoting.rate_cards.steps import cost_steps, price_steps
from quoting.rate_cards.terms import DEFAULT_TERMS, HAVE_TERMS_CHECKED
from tests.factories import RateCardFactory, arch_spec
from tests.quoting.rate_cards.cards import IMPERIAL, METRIC, card_with, rates_with


def _rate(steps, kind: str) -> str:
    return next(step.rate for step in steps if step.kind == kind)


@pytest.mark.parametrize("is_inclusive", [False, True])
def test_the_steps_are_all_of_the_estimators_in_its_order(is_inclusive):
    rates = rates_with(tax_inclusive=is_inclusive)
    assert [step.kind for step in cost_steps(rates, IMPERIAL)] == list(COST_KINDS)
    assert [step.kind for step in price_steps(rates, IMPERIAL)] == list(STEP_KINDS)


@pytest.mark.parametrize("is_inclusive", [False, True])
def test_an_order_with_everything_in_it_takes_the_steps_as_they_are_told(is_inclusive):
    rates = rates_with(tax_inclusive=is_inclusive, minimum_cents=10_000_000, rounding_cents=9973)
    catalogue = example_catalogue()
    priced = estimate(
        spec_from_dict(arch_spec(), catalogue=catalogue),
        catalogue=catalogue,
        rates=rates,
        conditions=OrderConditions(
            lead_days=2, outside_hours=True, strike=True, distance_km=20, drive_minutes=30
        ),
    ).price
    taken = list(dict.fromkeys(line.kind for line in priced.lines))
    told = [step.kind for step in (*cost_steps(rates, IMPERIAL), *price_steps(rates, IMPERIAL))]
    assert taken == [kind for kind in told if kind in taken]
    assert {"margin", "minimum", "rush", "outside hours", "strike", "rounding", "tax"} <= {*taken}


def test_each_rate_is_said_with_its_unit():
    rates = rates_with(travel_cents_per_km=45.0, labour_cents_by_phase={"pack": 1800})
    cost, price = cost_steps(rates, METRIC), price_steps(rates, METRIC)
    assert _rate(cost, "labour") == "€26.00 an hour"
    assert "Pack at €18.00." in next(step.why for step in cost if step.kind == "labour")
    assert _rate(cost, "travel") == "€0.45 a km"
    assert _rate(cost, "overhead") == "10 % of the costs before it"
    assert _rate(price, "minimum") == "€180.00"
    assert _rate(price, "rush") == (
        "25 % with 3 days’ notice or less, 10 % with 7 days’ notice or less"
    )
    assert _rate(price, "rounding") == "up to a multiple of €1.00"
    assert _rate(price, "tax") == "5.5 %"


@pytest.mark.parametrize(
    ("tiers", "said"),
    [
        ([], "none"),
        ([(0, 5000)], "50 % on the day itself"),
        (
            [(7, 1000), (1, 2500)],
            "25 % with 1 day’s notice or less, 10 % with 7 days’ notice or less",
        ),
    ],
)
def test_rush_is_said_with_the_tightest_first(tiers, said):
    rush = tuple(RushTier(within_days=days, extra_bp=extra) for days, extra in tiers)
    assert rush_text(rates_with(rush=rush)) == said


def test_a_card_is_told_from_another_at_a_glance():
    assert card_summary(rates_with(), IMPERIAL) == "$26.00 an hour, margin 35 % of the price"


@pytest.mark.django_db
def test_what_changed_is_said_in_words_and_in_the_order_of_the_card():
    before = card_with(version=1)
    after = card_with(
        version=2,
        labour_cents_per_hour=2800,
        margin_bp=4000,
        drive_time_paid=False,
        rush=(RushTier(within_days=2, extra_bp=3000),),
        labour_cents_by_phase={"pack": 1800},
        calling_off=(CallingOffBand(from_days=0, keep_bp=5000),),
        currency="EUR",
    )
    assert card_differences(before, after, showing=IMPERIAL) == (
        "Wage for an hour: $28.00 an hour, before $26.00 an hour",
        "Time on the road: not paid, before paid at the wage",
        "Wage for “pack”: $18.00 an hour, before the usual wage",
        "Margin: 40 % of the price, before 35 % of the price",
        "Rush: 30 % with 2 days’ notice or less; before "
        "25 % with 3 days’ notice or less, 10 % with 7 days’ notice or less",
        "Kept when called off: 50 % (at any time); before 25 % (30 days or more), "
        "50 % (14 to 29 days), 75 % (7 to 13 days), 100 % (fewer than 7 days)",
        "Currency: EUR, before USD",
    )


@pytest.mark.django_db
def test_a_difference_too_small_to_see_is_not_said():
    before = card_with(version=1, tie_strength_n=40.0)
    after = card_with(version=2, tie_strength_n=40.001)
    assert card_differences(before, after, showing=IMPERIAL) == ()


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("was", "now", "said"),
    [
        ("One", "Two", differences.TERMS_REWORDED),
        ("One", "", differences.TERMS_TAKEN),
        ("", "Two", differences.TERMS_GIVEN),
    ],
)
def test_a_change_of_terms_is_said(was, now, said):
    before, after = (RateCardFactory(version=v, terms=t) for v, t in ((1, was), (2, now)))
    assert card_differences(before, after, showing=IMPERIAL) == (said,)


def test_the_first_terms_speak_of_what_can_go_wrong():
    """The warning follows 16 CFR 1500.19(b)(2) in sense: children under eight, choke or suffocate,
    uninflated or broken balloons. Latex allergy: NIOSH. No release, power lines: California Penal
    Code 653.1."""
    for subject in ("deposit", "call off", "wind", "rain", "reach the place"):
        assert subject in DEFAULT_TERMS
    safety = next(p for p in DEFAULT_TERMS.split("\n\n") if p.startswith("Safety."))
    for words in ("under eight", "choke or suffocate", "not inflated", "latex", "power lines"):
        assert words in safety
    assert "latex-safe" not in DEFAULT_TERMS
    assert "not legal advice" in HAVE_TERMS_CHECKED
    assert len(DEFAULT_TERMS) < 8000
    assert "  " not in DEFAULT_TERMS
