"""Sunrise and sunset against published times, within two minutes.

Two minutes, as the almanacs round to one and places are given to a tenth of a degree.
"""

from datetime import date, datetime, timedelta

import pytest

from quoting.estimator.weather.daylight import Daylight, daylight

TWO_MINUTES = timedelta(minutes=2)
# The almanacs give standard time all year, which this zone keeps; its sign is reversed.
EASTERN_STANDARD = "Etc/GMT+5"
EASTERN_DAYLIGHT = "Etc/GMT+4"


def washington(on: date) -> Daylight:
    return daylight(latitude=38.9, longitude=-77.0, on=on, timezone=EASTERN_STANDARD)


def assert_at(found: datetime | None, published: str) -> None:
    assert found is not None
    hour, minute, second = (int(part) for part in published.split(":"))
    then = found.replace(hour=hour, minute=minute, second=second, microsecond=0)
    assert abs(found - then) <= TWO_MINUTES, f"ours {found:%H:%M:%S}, theirs {published}"


def test_an_equinox_by_the_naval_observatory():
    """US Naval Observatory, Washington DC, 20 March 2002: rise 06:12, set 18:21, dusk 18:47."""
    light = washington(date(2002, 3, 20))
    assert_at(light.sunrise, "06:12:00")
    assert_at(light.sunset, "18:21:00")
    assert_at(light.civil_dusk, "18:47:00")


def test_a_winter_day_by_nasa():
    """NASA note, Washington DC, 13 January 2025: rise 07:26, set 17:08."""
    light = washington(date(2025, 1, 13))
    assert_at(light.sunrise, "07:26:00")
    assert_at(light.sunset, "17:08:00")


def test_a_spring_evening_by_a_packages_documentation():
    """The solartime package's documentation: 38 N 79 W, 20 April 2014, set 19:56:38."""
    light = daylight(
        latitude=38.0, longitude=-79.0, on=date(2014, 4, 20), timezone=EASTERN_DAYLIGHT
    )
    assert_at(light.sunset, "19:56:38")


@pytest.mark.parametrize(
    ("on", "hours"),
    [(date(2025, 11, 1), 4), (date(2025, 11, 2), 5), (date(2026, 3, 7), 5), (date(2026, 3, 8), 4)],
)
def test_clocks_change_on_the_right_days(on, hours):
    """US daylight saving (from memory): back on 2 November 2025, forward on 8 March 2026."""
    light = daylight(latitude=43.66, longitude=-70.26, on=on, timezone="America/New_York")
    assert light.sunset.utcoffset() == timedelta(hours=-hours)
