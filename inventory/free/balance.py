"""How an item's stock goes up and down by date: plain arithmetic, with no database.

On any day there is what is on the shelf, less the holds due before or on it, plus the deliveries
expected before it. What comes on the day itself is not counted for that day: a van may be late.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date


@dataclass(frozen=True, kw_only=True)
class Change:
    """`quantity` is below 0 for a hold, above 0 for what arrives."""

    on: date
    quantity: int
    is_arrival: bool = False


@dataclass(frozen=True, kw_only=True)
class Free:
    """`promisable`: the least that is free on that day or on any later one. A new promise for the
    day can have no more, or it would take what is held for a later job. Below 0: short already.

    `promisable_now` is the same without what is still to arrive before that day.
    """

    shelf: int
    held: int
    arriving: int
    promisable: int

    @property
    def free(self) -> int:
        return self.shelf - self.held + self.arriving

    @property
    def promisable_now(self) -> int:
        return self.promisable - self.arriving


@dataclass(frozen=True, kw_only=True)
class Balance:
    """One item: what is on the shelf, and what changes that from then on."""

    shelf: int = 0
    changes: Sequence[Change] = field(default=())

    def free_on(self, on: date) -> Free:
        held = -sum(c.quantity for c in self.changes if not c.is_arrival and c.on <= on)
        arriving = sum(c.quantity for c in self.changes if c.is_arrival and c.on < on)
        return Free(
            shelf=self.shelf,
            held=held,
            arriving=arriving,
            promisable=min(
                [self.shelf - held + arriving, *(left for day, left in self.after() if day > on)]
            ),
        )

    def after(self) -> list[tuple[date, int]]:
        """How many are free after each change. On one day holds come before arrivals."""
        left, steps = self.shelf, []
        for change in sorted(self.changes, key=lambda c: (c.on, c.is_arrival)):
            left += change.quantity
            steps.append((change.on, left))
        return steps


def short_by(wanted: int, free: Free) -> int:
    """What is missing of `wanted`. What others are short of already is theirs to find."""
    return max(0, wanted - max(0, free.promisable))
