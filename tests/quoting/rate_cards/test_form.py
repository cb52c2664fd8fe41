from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from decor.jobs.days import DAY_HAS_GONE
from quoting.estimator import PHASES, RushTier, UnitTimes, example_rates, rates_to_dict
from quoting.estimator.rates import TIES, CallingOffBand
from quoting.rate_cards import day_rows, forms
from quoting.rate_cards.folds import CALLING_OFF, FOLDS, MARGIN_OUT_OF_RANGE, RUSH_FOLD, every_line
from tests.quoting.rate_cards.cards import (
    IMPERIAL,
    METRIC,
    TODAY,
    as_sent,
    form_for,
    rates_with,
    sent,
)

WAGE, PACKING = "labour_cents_per_hour", "labour_cents_by_phase-pack"
MARGIN, TRAVEL, TAX = "margin_bp", "travel_cents_per_km", "tax_bp"

bp = st.integers(0, 10_000)
cents = st.integers(0, 100_000_000)
share = st.floats(0, 0.9)
tiers = st.lists(
    st.builds(RushTier, within_days=st.integers(0, 365), extra_bp=bp),
    max_size=10,
    unique_by=lambda tier: tier.within_days,
).map(tuple)


@st.composite
def bands(draw):
    days = sorted(draw(st.sets(st.integers(1, 365), max_size=8)), reverse=True)
    keeps = sorted(draw(st.lists(bp, min_size=len(days) + 1, max_size=len(days) + 1)))
    return tuple(
        CallingOffBand(from_days=day, keep_bp=keep)
        for day, keep in zip([*days, 0], keeps, strict=True)
    )


calling_off = st.just(()) | bands()
seconds = st.floats(0, 36_000)
SHARES_OF_TIME = {
    "check_share": st.floats(0, 2),
    "ladder_factor": st.floats(1, 5),
    "cold_or_rain_factor": st.floats(1, 5),
    "outdoor_factor": st.floats(1, 5),
    "extra_person_share": st.floats(0, 1),
}
times = st.builds(
    UnitTimes,
    **{name: SHARES_OF_TIME.get(name, seconds) for name in UnitTimes.__dataclass_fields__},
)
any_rates = st.builds(
    replace,
    st.just(example_rates()),
    labour_cents_per_hour=cents,
    labour_cents_by_phase=st.dictionaries(st.sampled_from(PHASES), cents),
    margin_bp=st.integers(0, 9500),
    overhead_bp=bp,
    minimum_cents=cents,
    rush=tiers,
    outside_hours_bp=bp,
    travel_cents_per_km=st.floats(0, 10_000),
    drive_time_paid=st.booleans(),
    strike_fee_cents=cents,
    kit_wear_cents=cents,
    tax_bp=bp,
    tax_inclusive=st.booleans(),
    rounding_cents=st.integers(1, 100_000),
    deposit_bp=bp,
    balance_days=st.integers(0, 365),
    small_order_cents=cents,
    calling_off=calling_off,
    unit_times=times,
    fill=st.floats(0.64, 0.7404),
    loss_latex=share,
    loss_large=share,
    loss_foil=share,
    tie=st.sampled_from(TIES),
    tie_strength_n=st.floats(1, 5000),
    wind_limit_mps=st.floats(0, 60),
    pump_m3_per_min=st.floats(0.01, 20),
    packing_bag_m3=st.floats(0.01, 10),
    vehicle_m3=st.floats(0.1, 100),
)
showings = st.sampled_from([IMPERIAL, METRIC])


@given(rates=any_rates, showing=showings)
def test_a_form_that_nobody_touches_gives_back_the_very_rates(rates, showing):
    form = sent(rates, showing=showing)
    assert form.is_valid(), form.errors
    assert form.rates() == replace(rates, currency=showing.currency)


@given(rates=any_rates, showing=showings)
def test_what_a_form_shows_typed_anew_is_shown_again(rates, showing):
    """Form to rates to form, every value typed over others."""
    typed = as_sent(form_for(rates, showing=showing))
    form = form_for(rates_with(rush=()), showing=showing, data=typed)
    assert form.is_valid(), form.errors
    assert as_sent(form_for(form.rates(), showing=showing)) == typed


def test_every_rate_there_is_can_be_typed():
    """Nothing of the estimator's rates is left out, and nothing is in two folds."""
    names = [line.name for line in every_line()]
    data = rates_to_dict(example_rates())
    wanted = {name for name in data if name not in {"version", "currency", "rush", "calling_off"}}
    wanted -= {"unit_times", "labour_cents_by_phase"}
    wanted |= {f"unit_times.{name}" for name in data["unit_times"]}
    wanted |= {f"labour_cents_by_phase.{phase}" for phase in PHASES}
    assert sorted(names) == sorted(wanted)
    assert RUSH_FOLD in FOLDS and CALLING_OFF in FOLDS


@pytest.mark.parametrize(
    ("typed", "margin_bp"), [("0", 0), ("33.33", 3333), ("50 %", 5000), ("95", 9500)]
)
def test_a_margin_is_a_share_of_the_price(typed, margin_bp):
    assert sent(example_rates(), margin_bp=typed).rates().margin_bp == margin_bp


def test_a_rate_by_the_mile_is_read_as_one_and_shown_as_typed():
    form = sent(example_rates(), travel_cents_per_km="0.655")
    assert form.rates().travel_cents_per_km == pytest.approx(40.69981, abs=1e-5)
    assert 'value="0.655"' in str(form_for(form.rates())[TRAVEL])


@pytest.mark.parametrize("field", ["drive_time_paid", "tax_inclusive"])
@pytest.mark.parametrize("was", [True, False])
def test_a_choice_is_changed_and_changed_back(field, was):
    changed = sent(rates_with(**{field: was}), **{field: str(not was)}).rates()
    assert getattr(changed, field) is not was
    assert getattr(sent(changed, **{field: str(was)}).rates(), field) is was


def test_a_wage_for_a_phase_is_given_and_taken_back():
    form = sent(example_rates(), **{PACKING: "18"})
    assert form.rates().labour_cents_by_phase == {"pack": 1800}
    assert sent(form.rates(), **{PACKING: ""}).rates().labour_cents_by_phase == {}


def test_rush_rows_left_empty_are_left_out():
    form = sent(
        example_rates(), rush_days_0="", rush_extra_0="", rush_days_2="14", rush_extra_2="5"
    )
    assert form.rates().rush == (
        RushTier(within_days=7, extra_bp=1000),
        RushTier(within_days=14, extra_bp=500),
    )


def test_bands_for_calling_off_are_kept_longest_notice_first_however_they_were_typed():
    form = sent(
        example_rates(),
        calling_off_days_1="",
        calling_off_keep_1="",
        calling_off_days_2="0",
        calling_off_keep_2="90",
        calling_off_days_3="3",
        calling_off_keep_3="60",
    )
    assert form.rates().calling_off == (
        CallingOffBand(from_days=30, keep_bp=2500),
        CallingOffBand(from_days=3, keep_bp=6000),
        CallingOffBand(from_days=0, keep_bp=9000),
    )


def test_there_is_always_a_row_for_one_more_rush_until_there_are_ten():
    def rows(count: int) -> int:
        tiers = tuple(RushTier(within_days=n, extra_bp=100) for n in range(count))
        return form_for(rates_with(rush=tiers)).row_counts["rush"]

    assert [rows(count) for count in (0, 2, 3, 9, 10)] == [3, 3, 4, 10, 10]


WRONG = [
    ({WAGE: "-1"}, WAGE, "Between $0.00"),
    ({WAGE: ""}, WAGE, "required"),
    ({WAGE: "NaN"}, WAGE, "Write an amount"),
    ({WAGE: "99999999999"}, WAGE, "Between $0.00"),
    ({MARGIN: "100"}, MARGIN, MARGIN_OUT_OF_RANGE),
    ({MARGIN: "-5"}, MARGIN, MARGIN_OUT_OF_RANGE),
    ({MARGIN: "Infinity"}, MARGIN, "Write a per cent"),
    ({TAX: "101"}, TAX, "Between 0 % and 100 %"),
    ({TRAVEL: "-0.1"}, TRAVEL, "Between 0.00 and 160.9344 USD a mile"),
    ({TRAVEL: "nan"}, TRAVEL, "Write a number"),
    ({"rounding_cents": "0"}, "rounding_cents", "Between $0.01"),
    ({"balance_days": "400"}, "balance_days", "365"),
    ({"unit_times-mini_s": "a while"}, "unit_times-mini_s", "Write a time"),
    ({"unit_times-mini_s": "700 min"}, "unit_times-mini_s", "Between 0 s and 600 min"),
    ({"unit_times-ladder_factor": "-20"}, "unit_times-ladder_factor", "Between 0 and 400 %"),
    ({"fill": "90"}, "fill", "Between 64 and 74.04 %"),
    ({"loss_foil": "100"}, "loss_foil", "Between 0 and 90 %"),
    ({"wind_limit_mps": "400"}, "wind_limit_mps", "Between 0 and 134.22 mph"),
    ({"tie": "sticky tape"}, "tie", "valid choice"),
    ({"tax_inclusive": "perhaps"}, "tax_inclusive", "valid choice"),
    ({"rush_days_2": "3"}, "rush_extra_2", day_rows.EXTRA_MISSING),
    ({"rush_extra_2": "3"}, "rush_days_2", day_rows.EXTRA_DAYS_MISSING),
    ({"rush_days_2": "7", "rush_extra_2": "3"}, "rush_days_2", day_rows.DAYS_TWICE),
    ({"rush_days_2": "-1", "rush_extra_2": "3"}, "rush_days_2", "greater than or equal to 0"),
    ({"calling_off_keep_4": "3"}, "calling_off_days_4", day_rows.KEEP_DAYS_MISSING),
    ({"calling_off_days_4": "3"}, "calling_off_keep_4", day_rows.KEEP_MISSING),
    ({"calling_off_days_1": "30"}, "calling_off_days_1", day_rows.DAYS_TWICE),
    ({"calling_off_keep_1": "20"}, "calling_off_keep_1", day_rows.KEEPS_LESS),
    ({"calling_off_days_3": "1"}, "calling_off_days_3", day_rows.DAY_ITSELF_MISSING),
    ({"calling_off_keep_3": "101"}, "calling_off_keep_3", "Between 0 % and 100 %"),
    ({"starts_on": "2026-06-12"}, "starts_on", DAY_HAS_GONE),
    ({"starts_on": "31.02."}, "starts_on", "valid date"),
    ({"terms": "x" * 8001}, "terms", "at most 8000"),
    ({"note": "x" * 201}, "note", "at most 200"),
]


@pytest.mark.parametrize(("change", "field", "message"), WRONG)
def test_what_is_wrong_is_said_beside_its_field_in_an_open_fold_and_nothing_is_lost(
    change, field, message
):
    form = sent(example_rates(), **change)
    assert not form.is_valid()
    assert list(form.errors) == [field]
    assert message in form.errors[field][0]
    for name, typed in change.items():
        assert form[name].value() == typed
    in_folds = {bound.name for shown in form.folds() if shown.is_open for bound in _all(shown)}
    assert field in in_folds | {"starts_on", "terms", "note"}


def _all(shown: forms.FoldShown):
    in_rows = [bound for row in shown.rows for bound in row]
    return (*shown.fields, *shown.also, *in_rows)


def test_what_only_the_estimator_refuses_is_said_and_not_raised():
    """Should its limits ever become tighter than the form's."""
    form = form_for(example_rates(), data=as_sent(form_for(example_rates())))
    form.base = rates_with(minimum_cents=-1)
    assert not form.is_valid()
    assert "must be a whole number from 0" in form.errors["minimum_cents"][0]


def test_line_ends_of_a_browser_are_no_change_of_the_terms():
    form = sent(example_rates(), terms="One.\r\n\r\nTwo.")
    assert form.is_valid()
    assert form.cleaned_data["terms"] == "One.\n\nTwo."


def test_a_card_starts_today_or_within_five_years():
    last = TODAY + timedelta(days=5 * 366)
    assert sent(example_rates(), starts_on=last.isoformat()).is_valid()
    assert not sent(example_rates(), starts_on=(last + timedelta(days=1)).isoformat()).is_valid()
    assert form_for(example_rates())["starts_on"].value() == date(2026, 6, 13)
