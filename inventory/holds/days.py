"""The days between which a job needs things."""

from datetime import date, timedelta

# common practice, no source: latex looks its best within a day or so of being inflated
MADE_BEFORE = timedelta(days=1)


def making_on(event_on: date, *, today: date) -> date:
    """The day before the event; for an event of today, today."""
    return max(today, event_on - MADE_BEFORE)
