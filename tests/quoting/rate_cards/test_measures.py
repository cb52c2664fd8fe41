"""How rates are typed and said. Exact factors: the yard and pound agreement of 1959 (a mile is
1.609344 km, a pound 0.45359237 kg) and standard gravity 9.80665 m/s² (CGPM 1901)."""

from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError

from quoting.estimator.money import round_cents
from quoting.rate_cards.measures import (
    AIR_FLOW,
    BAG_ROOM,
    CAR_ROOM,
    FORCE,
    WIND,
    PerDistance,
    Seconds,
    Share,
)
from tests.quoting.rate_cards.cards import IMPERIAL, METRIC


@pytest.mark.parametrize(
    ("measure", "showing", "typed", "kept"),
    [
        (PerDistance(), IMPERIAL, "1.609344", 100.0),
        (PerDistance(), METRIC, "0.45", 45.0),
        (FORCE, IMPERIAL, "10", 44.4822161526),
        (FORCE, METRIC, "2", 19.6133),
        (WIND, IMPERIAL, "22.3693629", 10.0),
        (WIND, METRIC, "36", 10.0),
        (AIR_FLOW, IMPERIAL, "10", 0.28316846592),
        (AIR_FLOW, METRIC, "600", 0.6),
        (BAG_ROOM, METRIC, "350", 0.35),
        (CAR_ROOM, IMPERIAL, "100", 2.8316846592),
        (CAR_ROOM, METRIC, "2.97", 2.97),
        (Share(0, 0.9), IMPERIAL, "57", 0.57),
        (Share(1, 5, above=1), IMPERIAL, "35", 1.35),
        (Share(1, 5, above=1), IMPERIAL, "35 %", 1.35),
    ],
)
def test_what_is_typed_is_kept_in_the_estimators_unit(measure, showing, typed, kept):
    assert measure.field(showing).clean(typed) == pytest.approx(kept, rel=1e-9)


@pytest.mark.parametrize(
    ("measure", "showing", "kept", "said"),
    [
        (PerDistance(), IMPERIAL, 43.4959834, "$0.70 a mile"),
        (PerDistance(), IMPERIAL, 40.6998130, "$0.655 a mile"),
        (PerDistance(), METRIC, 45.0, "€0.45 a km"),
        (FORCE, IMPERIAL, 40.0, "8.99 lb"),
        (WIND, METRIC, 10.0, "36 km/h"),
        (BAG_ROOM, METRIC, 0.35, "350 litres"),
        (CAR_ROOM, IMPERIAL, 2.97, "104.88 cubic feet"),
        (Share(1, 5, "longer", above=1), IMPERIAL, 1.35, "35 % longer"),
        (Seconds(), IMPERIAL, 240.0, "4 min"),
    ],
)
def test_what_is_kept_is_said_in_the_businesss_unit(measure, showing, kept, said):
    assert measure.text(kept, showing) == said


# Business mileage rates: US Internal Revenue Service, cents a mile.
@pytest.mark.parametrize(
    ("typed", "miles", "cents"),
    [("0.655", 46, 3013), ("0.585", 100, 5850), ("0.70", 36, 2520), ("0.725", 200, 14_500)],
)
def test_a_rate_by_the_mile_prices_miles_to_the_cent(typed, miles, cents):
    cents_per_km = PerDistance().field(IMPERIAL).clean(typed)
    km = Decimal(miles) * Decimal("1.609344")
    assert round_cents(km * Decimal(str(cents_per_km))) == cents


@pytest.mark.parametrize(
    ("typed", "seconds"),
    [
        ("45", 45),
        ("45 s", 45),
        ("45s", 45),
        ("12.5 s", 12.5),
        ("4 min", 240),
        ("4 MIN.", 240),
        ("4m", 240),
        ("1.5 min", 90),
        ("1 min 30 s", 90),
        ("1 min 30", 90),
        ("2 minutes 5 seconds", 125),
        ("0", 0),
    ],
)
def test_a_time_is_read_as_people_write_it(typed, seconds):
    assert Seconds().field(IMPERIAL).clean(typed) == seconds


@pytest.mark.parametrize("typed", ["soon", "4 h", "-4", "1 30", "min", "1:30", "NaN", "4 min min"])
def test_what_is_no_time_is_refused(typed):
    with pytest.raises(ValidationError, match="45 s, 4 min"):
        Seconds().field(IMPERIAL).clean(typed)


@pytest.mark.parametrize(
    ("seconds", "said"),
    [
        (0, "0 s"),
        (9, "9 s"),
        (60, "1 min"),
        (75, "75 s"),
        (119.5, "119.5 s"),
        (120, "2 min"),
        (150, "2 min 30 s"),
        (900, "15 min"),
        (36_000, "600 min"),
    ],
)
def test_a_time_is_said_short(seconds, said):
    assert Seconds().text(seconds, IMPERIAL) == said
    assert Seconds().field(IMPERIAL).clean(said) == seconds


@pytest.mark.parametrize(
    "typed", ["NaN", "inf", "-inf", "1e400", "twelve", "12,5", "1.2.3", "--1", "½"]
)
def test_what_is_no_number_is_refused(typed):
    with pytest.raises(ValidationError):
        CAR_ROOM.field(METRIC).clean(typed)


@pytest.mark.parametrize("measure", [FORCE, WIND, AIR_FLOW, BAG_ROOM, CAR_ROOM])
@pytest.mark.parametrize("showing", [IMPERIAL, METRIC])
def test_what_is_said_to_be_allowed_is(measure, showing):
    field = measure.field(showing)
    with pytest.raises(ValidationError) as refused:
        field.clean("9999999")
    low, high = (
        refused.value.message.removeprefix("Between ").removesuffix(", please.").split(" and ")
    )
    field.clean(low)
    field.clean(high)


def test_a_value_sent_back_as_shown_is_no_change():
    field = FORCE.field(IMPERIAL)
    assert not field.has_changed(40.0, "8.99")
    assert field.has_changed(40.0, "9")
    assert field.has_changed(40.0, "")
