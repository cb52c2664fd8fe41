"""When to order what is short, and in words whether that is in time."""

from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

ONE_DAY = timedelta(days=1)

NO_SUPPLIER = "No supplier yet, {needed}."
NOT_ON_THE_DAY = "Ordered today it arrives {arrives}, the day it is needed: too late to count on."
TOO_LATE = "Ordered today it arrives {arrives}, {needed}: too late."
TODAY = "Order today: arrives {arrives}, {needed}."
BY = "Order by {order_by}: arrives {arrives}, {needed}."


class Urgency(StrEnum):
    TOO_LATE = "too late"
    NO_SUPPLIER = "no supplier"
    TODAY = "today"
    LATER = "later"


@dataclass(frozen=True)
class When:
    """`order_by` may be past. `arrives_on`: when ordered then, or today if that is past."""

    needed_on: date
    order_by: date
    arrives_on: date | None
    urgency: Urgency
    words: str


def when_to_order(
    *, needed_on: date, lead_days: int | None, days_to_spare: int, today: date
) -> When:
    """No lead: no supplier is known. What comes on the day of making does not count as in time,
    so that there is at least one day to spare."""
    needed = f"{'needed' if needed_on >= today else 'was needed'} {day_words(needed_on)}"
    if lead_days is None:
        order_by = needed_on - days_to_spare * ONE_DAY
        words = NO_SUPPLIER.format(needed=needed)
        return When(needed_on, order_by, None, Urgency.NO_SUPPLIER, words)
    order_by = needed_on - (lead_days + max(1, days_to_spare)) * ONE_DAY
    arrives_on = max(order_by, today) + lead_days * ONE_DAY
    urgency = _urgency(order_by, arrives_on, needed_on, today)
    words = _sentence(urgency, arrives_on == needed_on).format(
        order_by=day_words(order_by), arrives=day_words(arrives_on), needed=needed
    )
    return When(needed_on, order_by, arrives_on, urgency, words)


def is_in_time(*, lead_days: int, needed_on: date, today: date) -> bool:
    return today + lead_days * ONE_DAY < needed_on


def day_words(day: date) -> str:
    return f"{day:%A} {day.day} {day:%B}"


def _urgency(order_by: date, arrives_on: date, needed_on: date, today: date) -> Urgency:
    if arrives_on >= needed_on:
        return Urgency.TOO_LATE
    return Urgency.TODAY if order_by <= today else Urgency.LATER


def _sentence(urgency: Urgency, is_on_the_day: bool) -> str:
    if urgency == Urgency.TOO_LATE:
        return NOT_ON_THE_DAY if is_on_the_day else TOO_LATE
    return TODAY if urgency == Urgency.TODAY else BY
