"""What there is to make and when it may be made: minutes of persons, whole days."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

# Planned in half hours, so that no session is shorter: what a job needs is rounded up to them,
# what a day has left is rounded down.
STEP_MINUTES: Final = 30
_HOURS_A_DAY: Final = 24


@dataclass(frozen=True, kw_only=True)
class JobToMake:
    """Its balloons may be `oldest_days` old at the install and no older. It is made by the day
    before, and on the day of the install where `on_the_day` says so or they keep no day."""

    job: str
    minutes: int
    install_on: date
    oldest_days: int
    on_the_day: bool = False

    def __post_init__(self) -> None:
        if self.minutes < 0 or self.oldest_days < 0:
            raise ValueError(f"{self.job}: minutes and days cannot be below zero")

    def ages(self) -> Iterator[int]:
        """Days before the install on which it may be made, the latest first."""
        latest = 0 if self.on_the_day or self.oldest_days == 0 else 1
        yield from range(latest, self.oldest_days + 1)

    def day_of(self, age: int) -> date:
        return self.install_on - timedelta(days=age)

    def allows(self, on: date) -> bool:
        return (self.install_on - on).days in self.ages()


@dataclass(frozen=True, kw_only=True)
class Session:
    """One for each job and day. A fixed one was set by hand and is never moved."""

    job: str
    on: date
    minutes: int
    is_fixed: bool = False


def oldest_days(life_hours: float) -> int:
    """Whole days that balloons keep: 36 hours are one, 8 are none, so made on the day."""
    return int(life_hours // _HOURS_A_DAY)
