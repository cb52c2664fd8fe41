from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from decor.models.business import Units
from decor.models.located import Coordinates
from quoting.pieces.reading import read_piece
from quoting.pieces.weather import NO_COORDINATES, NO_DATE, NO_GUST, READ_AGAIN, weather_of
from tests.quoting.pieces.conftest import surroundings_in

NOW = datetime(2026, 6, 13, 16, 0, tzinfo=UTC)
TYPED = {"shape": "walk_arch", "base": ["oat", "fern"], "outdoor": "yes"}


@pytest.fixture
def porch():
    return replace(
        surroundings_in(Units.IMPERIAL, is_outdoor=True),
        coordinates=Coordinates(43.66, -70.26),
        timezone="America/New_York",
        event_on=date(2026, 6, 21),
    )


def shown(around, **typed):
    reading = read_piece({**TYPED, **typed}, around)
    panel = weather_of(reading.estimate, reading, around, now=NOW)
    return panel, {row.label: row for row in panel.rows}


def test_a_gust_has_its_beaufort_name_and_what_it_does_to_each_anchor(porch):
    panel, rows = shown(porch, gust="20 mph")
    # WMO: 8.0 to 10.7 m/s is force 5, fresh breeze; 20 mph is 8.9 m/s.
    assert "Beaufort 5, fresh breeze" in rows["Gust"].note
    assert rows["Force on the piece"].text.endswith("lbf")
    assert rows["Force on each"].explain == "force per anchor"
    assert "your ties hold" in rows["Force on each"].note
    assert panel.short.startswith("gust 20 mph, fresh breeze; start by")


def test_without_a_gust_it_says_that_none_is_counted(porch):
    _, rows = shown(porch)
    assert rows["Wind"].note == NO_GUST


def test_sunset_is_that_of_the_place_and_the_day(porch):
    """NASA note, Washington DC, 13 January 2025: set 17:08. Two minutes, as tests/outside says."""
    washington = replace(porch, coordinates=Coordinates(38.9, -77.0), event_on=date(2025, 1, 13))
    _, rows = shown(washington)
    assert rows["Sunset"].text in {f"5:{minute:02} pm" for minute in range(6, 11)}


def test_the_latest_start_is_before_sunset_by_the_work_and_half_an_hour(porch):
    _, rows = shown(porch)
    sunset, start = (
        datetime.strptime(rows[label].text, "%I:%M %p")  # noqa: DTZ007
        for label in ("Sunset", "Latest start in daylight")
    )
    assert timedelta(minutes=30) < sunset - start < timedelta(hours=4)


def test_without_a_place_on_the_map_it_asks_for_one(porch):
    panel, rows = shown(replace(porch, coordinates=None))
    assert rows["Sunset"].note == NO_COORDINATES
    assert panel.asks_for_place


def test_without_a_date_there_is_no_sunset(porch):
    _, rows = shown(replace(porch, event_on=None))
    assert rows["Sunset"].note == NO_DATE


def test_beyond_the_polar_circle_the_sun_stays_up(porch):
    _, rows = shown(replace(porch, coordinates=Coordinates(78.2, 15.6)))
    assert rows["Sunset"].text == "the Sun stays up"
    assert "does not set" in rows["Daylight"].note


def test_indoors_there_is_neither_wind_nor_sun(porch):
    panel, rows = shown(porch, outdoor="no", gust="40 mph")
    assert not {"Gust", "Sunset", "Force on each"} & set(rows)
    assert not panel.asks_for_place


def test_whose_forecast_it_is_and_when_it_was_read_are_remembered(porch):
    _, rows = shown(porch, forecast_source="harbour office", forecast_read="2026-06-13T09:30")
    assert rows["Forecast"].text.startswith("harbour office, read Saturday 13 June 2026")
    assert rows["Forecast"].note == ""


def test_an_old_forecast_is_to_be_read_again(porch):
    _, rows = shown(porch, forecast_source="harbour office", forecast_read="2026-06-11T09:30")
    assert rows["Forecast"].note == READ_AGAIN


def test_an_hour_that_is_none_is_refused_beside_its_field(porch):
    reading = read_piece({**TYPED, "forecast_read": "soon"}, porch)
    assert "forecast_read" in reading.form.errors
