"""What the weather at the place does to a piece, in the words and units of the business."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Final
from zoneinfo import ZoneInfo

from decor.display import date_text, hours_text
from quoting.estimator import Estimate
from quoting.estimator.hours import elapsed_hours
from quoting.estimator.saying import Measure, Quantity, say
from quoting.estimator.weather import Advice, Forecast, advice_for, beaufort, expected_life
from quoting.estimator.weather.daylight import SunKind, daylight, latest_start
from quoting.pieces.facts import FactRow
from quoting.pieces.measures import gust_text
from quoting.pieces.reading import Reading, Surroundings

# What is done at the place before it may get dark.
_AT_THE_PLACE: Final = ("hang", "check and fill")
_LATEST_START: Final = "Latest start in daylight"
NO_GUST: Final = "No gust typed, so no wind is counted. Type the strongest one of the forecast."
NO_DATE: Final = "The job has no date yet, so there is no sunset to work towards."
NO_COORDINATES: Final = "Say where the place is on the map, and sunset stands here."
READ_AGAIN: Final = "Read again: it is older than a day."


@dataclass(frozen=True, kw_only=True)
class WeatherPanel:
    """`short` says it in a line. `asks_for_place`: the place's coordinates would tell more."""

    short: str
    rows: tuple[FactRow, ...]
    advice: tuple[Advice, ...]
    asks_for_place: bool


def weather_of(
    made: Estimate, reading: Reading, surroundings: Surroundings, *, now: datetime
) -> WeatherPanel:
    outdoor = made.spec.site.outdoor
    rows = (
        *(_wind(made, surroundings.units) if outdoor else ()),
        *(_sun(made, surroundings) if outdoor else ()),
        *(_life(made) if outdoor else ()),
        *_forecast(reading, surroundings, now=now),
    )
    return WeatherPanel(
        short=_short(made, rows, surroundings.units),
        rows=rows,
        advice=advice_for(made.spec),
        asks_for_place=outdoor and surroundings.coordinates is None,
    )


def _short(made: Estimate, rows: Iterable[FactRow], units: str) -> str:
    if not made.spec.site.outdoor:
        return "no wind, no sun"
    gust = made.spec.site.gust_mps
    wind = f"gust {gust_text(gust, units)}, {beaufort(gust).name}" if gust else "no gust typed"
    start = next((row.text for row in rows if row.label == _LATEST_START), "")
    return f"{wind}; start by {start}" if start else wind


def _wind(made: Estimate, units: str) -> Iterator[FactRow]:
    gust, wind = made.spec.site.gust_mps, made.wind
    if not gust:
        yield FactRow("Wind", "none counted", NO_GUST)
        yield FactRow("Anchors", str(wind.anchors), explain="anchors")
        return
    name = beaufort(gust)
    signs = f"Beaufort {name.number}, {name.name}: {name.on_land}"
    yield FactRow("Gust", gust_text(gust, units), signs)
    force, each, tie = (
        say(Quantity(newtons, Measure.FORCE), units)
        for newtons in (wind.force_n, wind.force_per_anchor_n, made.rates.tie_strength_n)
    )
    yield FactRow("Force on the piece", force, explain="wind force")
    yield FactRow("Anchors", str(wind.anchors), "from every side", explain="anchors")
    told = f"your ties hold {tie}. A caution, not a structural design"
    yield FactRow("Force on each", each, told, explain="force per anchor")


def _sun(made: Estimate, surroundings: Surroundings) -> Iterator[FactRow]:
    place, day = surroundings.coordinates, surroundings.event_on
    if place is None:
        yield FactRow("Sunset", "not known", NO_COORDINATES)
        return
    if day is None:
        yield FactRow("Sunset", "no date yet", NO_DATE)
        return
    light = daylight(
        latitude=place.latitude,
        longitude=place.longitude,
        on=day,
        timezone=surroundings.timezone,
    )
    sets = clock_text(light.sunset) if light.sunset else _polar(light.kind)
    yield FactRow("Sunset", sets, date_text(day))
    start = latest_start(light, _hanging_hours(made))
    if start.at:
        why = f"{hours_text(_hanging_hours(made))} to hang and check it, and half an hour to spare"
        yield FactRow(_LATEST_START, clock_text(start.at), why)
    else:
        yield FactRow("Daylight", "no latest start", start.why[:1].upper() + start.why[1:])


def _polar(kind: SunKind) -> str:
    return "the Sun stays up" if kind is SunKind.ALWAYS_UP else "no Sun that day"


def _hanging_hours(made: Estimate) -> float:
    person_hours = sum(line.person_hours for line in made.labour if line.phase in _AT_THE_PLACE)
    return elapsed_hours(person_hours, made.spec.crew, made.rates.unit_times)


def _life(made: Estimate) -> Iterator[FactRow]:
    life = expected_life(made.spec.site.hung_at_c)
    text = f"about {life.hours:g} h"
    between = f"between {life.low:g} and {life.high:g} h; {life.provenance}"
    yield FactRow("Looks its best outdoors for", text, between)


def _forecast(reading: Reading, surroundings: Surroundings, *, now: datetime) -> Iterator[FactRow]:
    values = reading.form.cleaned_data
    forecast = Forecast(
        source=values.get("forecast_source") or "", read_at=values.get("forecast_read")
    )
    if not forecast.source and forecast.read_at is None:
        return
    read = ""
    if forecast.read_at:
        local = forecast.read_at.astimezone(ZoneInfo(surroundings.timezone))
        read = f"read {date_text(local.date())}, {clock_text(local)}"
    said = ", ".join(part for part in (forecast.source, read) if part)
    yield FactRow("Forecast", said, READ_AGAIN if forecast.is_old(now) else "")


def clock_text(at: datetime) -> str:
    """`4:07 pm`"""
    return f"{at:%I:%M}".lstrip("0") + f" {at:%p}".lower()
