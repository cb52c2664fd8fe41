import pytest
from django.core.exceptions import ValidationError
from hypothesis import given
from hypothesis import strategies as st

from decor.display import length_text
from decor.fields import LengthField, MoneyField, PercentField, parse_length
from decor.models.business import Units

IN = 0.0254


@pytest.mark.parametrize(
    ("text", "units", "metres"),
    [
        ("7 ft 6 in", Units.IMPERIAL, 90 * IN),
        ("7'6\"", Units.IMPERIAL, 90 * IN),
        ("7'6", Units.IMPERIAL, 90 * IN),
        ("7’ 6”", Units.IMPERIAL, 90 * IN),
        ("7.5 ft", Units.IMPERIAL, 90 * IN),
        ("90in", Units.IMPERIAL, 90 * IN),
        ("7.5", Units.IMPERIAL, 90 * IN),
        ("7.5 FEET", Units.METRIC, 90 * IN),
        ("2.3 m", Units.IMPERIAL, 2.3),
        ("230 cm", Units.METRIC, 2.3),
        ("2.3", Units.METRIC, 2.3),
        ("2,3 m", Units.METRIC, 2.3),
        ("2 m 30 cm", Units.METRIC, 2.3),
        ("2300mm", Units.METRIC, 2.3),
    ],
)
def test_a_length_is_read_however_it_is_written(text, units, metres):
    assert parse_length(text, units=units) == pytest.approx(metres)


@pytest.mark.parametrize(
    "text", ["", "wide", "-2 m", "2 miles", "nan", "inf", "1e3", "2 m 3 4", "ft", "2 ft -3 in"]
)
def test_what_is_no_length_is_not_guessed(text):
    assert parse_length(text, units=Units.IMPERIAL) is None


def test_a_length_out_of_range_is_refused_in_the_units_of_the_business():
    field = LengthField(units=Units.IMPERIAL, min_m=0.3, max_m=30.48)
    with pytest.raises(ValidationError, match="Between 1 ft and 100 ft, please"):
        field.clean("13123 ft")


def test_a_wrong_length_is_answered_with_an_example():
    with pytest.raises(ValidationError, match=r"Write a length such as 2\.3 m"):
        LengthField(units=Units.METRIC).clean("long")


@given(inches=st.integers(min_value=0, max_value=4000))
def test_a_length_said_can_be_read_back(inches):
    said = length_text(inches * IN, Units.IMPERIAL)
    assert parse_length(said, units=Units.IMPERIAL) == pytest.approx(inches * IN)


@pytest.mark.parametrize(
    ("text", "cents"),
    [("12.50", 1250), ("$1,250", 125000), ("0", 0), (" 7 ", 700), ("0.1", 10), ("", None)],
)
def test_money_is_read_as_whole_cents(text, cents):
    assert MoneyField(required=False).clean(text) == cents


@pytest.mark.parametrize("text", ["12,50", "1.005", "NaN", "Infinity", "-5", "1e400", "ten", "--"])
def test_money_that_could_be_misread_is_refused(text):
    with pytest.raises(ValidationError):
        MoneyField().clean(text)


@pytest.mark.parametrize(("text", "points"), [("8.25", 825), ("8.25 %", 825), ("40%", 4000)])
def test_per_cents_are_read_as_basis_points(text, points):
    assert PercentField().clean(text) == points


@pytest.mark.parametrize("text", ["101", "8.255", "-1", "half"])
def test_impossible_per_cents_are_refused(text):
    with pytest.raises(ValidationError):
        PercentField().clean(text)
