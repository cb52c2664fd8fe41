"""How many of one sort of kit are out at once: plain arithmetic, with no database.

Kit is out from the day of setting up to the day of taking down, both included, and then rests for
its turnaround before it can go out again.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta


@dataclass(frozen=True, kw_only=True)
class Out:
    quantity: int
    from_on: date
    until_on: date


def most_out(outs: Iterable[Out], *, from_on: date, until_on: date, turnaround_days: int) -> int:
    """The most that are out or at rest on any day on which a new one would be, its rest included.

    The count only rises where something goes out, so only those days need to be looked at.
    """
    rest = timedelta(days=turnaround_days)
    met = [out for out in outs if out.from_on <= until_on + rest and from_on <= out.until_on + rest]
    days = {max(out.from_on, from_on) for out in met}
    return max(
        (
            sum(out.quantity for out in met if out.from_on <= day <= out.until_on + rest)
            for day in days
        ),
        default=0,
    )
