"""What the calendar says about a day's hours."""

from decor.calendar.capacity import DayHours
from decor.display import hours_text

MORE_MAKING = "{planned} of making, and there are {given} for it."
MORE_INSTALLING = "{planned} of installing with the drives, and there are {given} for it."


def over_text(hours: DayHours) -> tuple[str, ...]:
    """Where more is planned than there are hours."""
    words = ((MORE_MAKING, hours.making), (MORE_INSTALLING, hours.installing))
    return tuple(
        said.format(planned=hours_text(m.taken / 60), given=hours_text(m.given / 60))
        for said, m in words
        if m.is_over
    )
