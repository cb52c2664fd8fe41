from datetime import UTC, date, datetime, timedelta

import pytest

from quoting.estimator import estimate, spec_from_dict
from quoting.estimator.weather import (
    Forecast,
    advice_for,
    anchors_for,
    beaufort,
    expected_life,
    foil_change,
    under_forecast,
    wind_chill,
)
from quoting.estimator.weather.daylight import SunKind, daylight, latest_start
from quoting.estimator.weather.heat import is_dark

from .garlands import garland, plain_garland

READ_AT = datetime(2026, 6, 5, 9, 0, tzinfo=UTC)


def test_a_forecast_replaces_the_weather_and_not_the_place():
    spec = spec_from_dict(garland())
    forecast = Forecast(gust_mps=6, site_c=30, rain=True, source="radio", read_at=READ_AT)
    site = under_forecast(spec, forecast).site
    assert (site.gust_mps, site.hung_at_c, site.rain) == (6, 30, True)
    assert (site.outdoor, site.height_m) == (True, 2.6)


def test_a_forecast_grows_old_in_a_day():
    forecast = Forecast(read_at=READ_AT)
    assert not forecast.is_old(READ_AT + timedelta(hours=24))
    assert forecast.is_old(READ_AT + timedelta(hours=25))
    assert not Forecast().is_old(READ_AT)


@pytest.mark.parametrize(
    ("force", "tie", "ties"), [(0, 40, 0), (40, 40, 1), (40.1, 40, 2), (0.1 * 3, 0.1, 3)]
)
def test_the_fewest_ties_that_hold(force, tie, ties):
    assert anchors_for(force, tie) == ties


def test_a_doubled_gust_needs_four_times_the_ties():
    def force(gust):
        spec = plain_garland(site={"gust_mps": gust})
        return estimate(spec_from_dict(spec)).wind.force_n

    assert force(8) == pytest.approx(4 * force(4), rel=1e-12)


def test_heat_shortens_life_and_cold_lengthens_it():
    hot, mild, cool = (expected_life(celsius) for celsius in (33, 21, 5))
    assert hot.hours < mild.hours == 24 < cool.hours
    assert mild.provenance == "common practice, no source"


@pytest.mark.parametrize(
    ("hex_value", "dark"),
    [("#000000", True), ("#6B3A5B", True), ("#E8DCC6", False), ("#ffffff", False)],
)
def test_dark_colours(hex_value, dark):
    assert is_dark(hex_value) is dark


def test_foil_is_slack_in_the_cold_and_strained_in_heat():
    assert foil_change(from_c=20, to_c=20) == foil_change(from_c=-5, to_c=-5)
    assert foil_change(from_c=20, to_c=0).slack == pytest.approx(20 / 293.15)
    assert foil_change(from_c=20, to_c=40).strain == pytest.approx(20 / 293.15)


def test_wind_chill_is_given_only_where_its_formula_holds():
    assert wind_chill(11, 5) is None
    assert wind_chill(0, 1) is None
    assert wind_chill(0, 5) < 0


def test_advice_follows_the_piece():
    def keys(data):
        return [advice.key for advice in advice_for(spec_from_dict(data))]

    assert keys(plain_garland()) == ["rounder", "losses by lot"]
    assert keys(garland()) == ["hand pump", "every side", "cold latex", "rounder", "losses by lot"]


def test_beaufort_grows_with_the_wind_and_knows_every_wind():
    numbers = [beaufort(tenths / 10).number for tenths in range(600)]
    assert numbers == sorted(numbers)
    assert set(numbers) == set(range(13))


def wexcombe_bay(on: date):
    return daylight(latitude=43.66, longitude=-70.26, on=on, timezone="America/New_York")


def test_the_latest_start_is_sunset_less_work_and_margin():
    light = wexcombe_bay(date(2026, 6, 20))
    start = latest_start(light, 2.5, margin=timedelta(minutes=30))
    assert light.sunset - start.at == timedelta(hours=3)
    assert start.at.utcoffset() == light.sunset.utcoffset()
    assert "sunset at 20:2" in start.why


@pytest.mark.parametrize("month", range(1, 13))
@pytest.mark.parametrize("timezone", ["America/New_York", "Pacific/Auckland", "Pacific/Kiritimati"])
def test_every_event_falls_on_the_day_asked_for_by_the_local_clock(month, timezone):
    longitude = {"America/New_York": -70, "Pacific/Auckland": 175, "Pacific/Kiritimati": -157}
    on = date(2026, month, 1)
    light = daylight(latitude=40, longitude=longitude[timezone], on=on, timezone=timezone)
    times = [light.civil_dawn, light.sunrise, light.sunset, light.civil_dusk]
    assert all(time.date() == on for time in times)
    assert times == sorted(times)


def test_the_sun_of_the_far_north():
    summer = daylight(latitude=69.65, longitude=18.96, on=date(2026, 6, 21), timezone="Europe/Oslo")
    winter = daylight(
        latitude=69.65, longitude=18.96, on=date(2026, 12, 21), timezone="Europe/Oslo"
    )
    assert summer.kind is SunKind.ALWAYS_UP
    assert winter.kind is SunKind.NEVER_UP
    assert winter.civil_dusk is not None
    assert latest_start(summer, 2).at is None
    assert "any start" in latest_start(summer, 2).why
    assert "lamps" in latest_start(winter, 2).why


def test_a_day_too_short_for_the_work_has_no_latest_start():
    found = latest_start(wexcombe_bay(date(2026, 12, 21)), 12)
    assert found.at is None
    assert "less time than the work takes" in found.why


def test_no_dusk_in_a_white_night_though_the_sun_sets():
    light = daylight(
        latitude=62.0, longitude=25.0, on=date(2026, 6, 21), timezone="Europe/Helsinki"
    )
    assert light.sunset is not None
    assert light.civil_dusk is None
    assert latest_start(light, 1).at is not None
