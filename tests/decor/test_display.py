from datetime import date

import pytest

from decor import display
from decor.models.business import Units


@pytest.mark.parametrize(
    ("cents", "currency", "said"),
    [
        (123450, "USD", "$1,234.50"),
        (-500, "USD", "-$5.00"),
        (0, "EUR", "€0.00"),
        (99, "GBP", "£0.99"),
    ],
)
def test_money_is_said_with_its_sign_and_two_decimals(cents, currency, said):
    assert display.money_text(cents, currency) == said


@pytest.mark.parametrize(
    ("metres", "units", "said"),
    [
        (2.4, Units.IMPERIAL, "7 ft 10 in"),
        (0.3048, Units.IMPERIAL, "1 ft"),
        (0.40, Units.IMPERIAL, "1 ft 4 in"),
        (0.2, Units.IMPERIAL, "8 in"),
        (0.0, Units.IMPERIAL, "0 in"),
        (3.6575, Units.IMPERIAL, "12 ft"),
        (2.4, Units.METRIC, "2.40 m"),
    ],
)
def test_a_length_is_said_in_the_units_of_the_business(metres, units, said):
    assert display.length_text(metres, units) == said


@pytest.mark.parametrize(
    ("hours", "said"),
    [
        (0.0, "0 min"),
        (0.02, "under 5 min"),
        (0.5, "30 min"),
        (3.34, "3 h 20 min"),
        (2.0, "2 h"),
        (1.99, "2 h"),
    ],
)
def test_hours_are_said_to_five_minutes(hours, said):
    assert display.hours_text(hours) == said


@pytest.mark.parametrize(
    ("points", "said"),
    [(825, "8.25 %"), (4000, "40 %"), (0, "0 %"), (1050, "10.5 %"), (-2975, "−29.75 %")],
)
def test_basis_points_are_said_as_per_cent(points, said):
    assert display.percent_text(points) == said


@pytest.mark.parametrize(
    ("day", "said"),
    [
        (date(2026, 11, 25), "today"),
        (date(2026, 11, 26), "tomorrow"),
        (date(2026, 11, 24), "yesterday"),
        (date(2026, 12, 5), "in 10 days"),
        (date(2027, 1, 6), "in 6 weeks"),
        (date(2026, 11, 20), "5 days ago"),
    ],
)
def test_days_away_are_said_as_people_say_them(day, said):
    assert display.days_away_text(day, date(2026, 11, 25)) == said


def test_a_date_names_its_weekday():
    assert display.date_text(date(2026, 12, 5)) == "Saturday 5 December 2026"
