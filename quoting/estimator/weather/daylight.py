"""The Sun at a place on a day, and the latest start that still ends in daylight."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from enum import StrEnum
from typing import Final
from zoneinfo import ZoneInfo

from astral import Depression, Observer
from astral.sun import dawn, dusk, elevation, noon, sunrise, sunset

MARGIN: Final = timedelta(minutes=30)  # from memory: to clear up and to find what fell
_LOWEST_SUN_DEG = -0.833  # half the Sun's width and refraction at the horizon: NOAA


class SunKind(StrEnum):
    USUAL = "rises or sets"
    ALWAYS_UP = "does not set"
    NEVER_UP = "does not rise"


@dataclass(frozen=True, kw_only=True)
class Daylight:
    """Aware times of the place's own clock; None for what does not happen on that day."""

    kind: SunKind
    civil_dawn: datetime | None
    sunrise: datetime | None
    sunset: datetime | None
    civil_dusk: datetime | None


def daylight(*, latitude: float, longitude: float, on: date, timezone: str) -> Daylight:
    """Degrees, north and east above zero. Good to two minutes away from the poles."""
    observer, zone = Observer(latitude, longitude), ZoneInfo(timezone)
    civil = Depression.CIVIL
    rises = _on_the_day(lambda day: sunrise(observer, day, zone), on)
    sets = _on_the_day(lambda day: sunset(observer, day, zone), on)
    return Daylight(
        kind=SunKind.USUAL if rises or sets else _polar(observer, on, zone),
        civil_dawn=_on_the_day(lambda day: dawn(observer, day, civil, zone), on),
        sunrise=rises,
        sunset=sets,
        civil_dusk=_on_the_day(lambda day: dusk(observer, day, civil, zone), on),
    )


def _on_the_day(find: Callable[[date], datetime], on: date) -> datetime | None:
    """astral counts days in UTC: of three of them, the event that falls on the local day."""
    for day in (on, on - timedelta(days=1), on + timedelta(days=1)):
        try:
            found = find(day)
        except ValueError:  # the Sun does not reach that height
            continue
        if found.date() == on:
            return found
    return None


def _polar(observer: Observer, on: date, zone: ZoneInfo) -> SunKind:
    highest = elevation(observer, noon(observer, on, zone))
    return SunKind.ALWAYS_UP if highest > _LOWEST_SUN_DEG else SunKind.NEVER_UP


@dataclass(frozen=True)
class LatestStart:
    """`at` is None where daylight sets no latest start, or leaves no time; `why` says which."""

    at: datetime | None
    why: str


def latest_start(
    light: Daylight, install_hours: float, *, margin: timedelta = MARGIN
) -> LatestStart:
    """Sunset less the work and a margin, in absolute time, so that a change of clocks is kept."""
    if light.kind is SunKind.ALWAYS_UP:
        return LatestStart(None, "the Sun does not set on that day: any start is in daylight")
    if light.sunset is None:
        return LatestStart(None, "the Sun does not rise on that day: bring lamps for all of it")
    start = light.sunset.astimezone(UTC) - timedelta(hours=install_hours) - margin
    if light.sunrise and start < light.sunrise.astimezone(UTC):
        return LatestStart(
            None, "the Sun is up for less time than the work takes: bring people or lamps"
        )
    minutes = f"{margin / timedelta(minutes=1):g} min"
    why = f"sunset at {light.sunset:%H:%M}, less {install_hours:.1f} h of work and {minutes}"
    return LatestStart(start.astimezone(light.sunset.tzinfo), why)
