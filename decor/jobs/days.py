"""The day of an event, as a form takes it."""

from datetime import date, timedelta

from django import forms
from django.core.exceptions import ValidationError

LATEST = timedelta(days=5 * 366)
DAY_HAS_GONE = "That day has gone. Choose today or a later day."
DAY_IS_FAR = "Choose a day within the next five years."


class DayInput(forms.DateInput):
    input_type = "date"

    def __init__(self) -> None:
        super().__init__(format="%Y-%m-%d")


class TimeInput(forms.TimeInput):
    input_type = "time"

    def __init__(self) -> None:
        super().__init__(format="%H:%M")


def day_to_come(day: date | None, *, today: date) -> date | None:
    """The day itself, if an event could still be on it."""
    if day is None:
        return None
    if day < today:
        raise ValidationError(DAY_HAS_GONE, code="past")
    if day > today + LATEST:
        raise ValidationError(DAY_IS_FAR, code="far")
    return day
