"""One item's ups and downs from day to day: which job takes it below nothing, and when."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from decor.models import Job
from inventory.free.service import OUTSTANDING, STILL_TO_COME, free_on
from inventory.models import Hold, Item, Order, OrderLine
from inventory.models.hold import OPEN_STATES
from inventory.models.order import OrderState


@dataclass(frozen=True, kw_only=True)
class Step:
    """A hold's or a delivery's day. `left`: how many are free once it has happened."""

    on: date
    quantity: int
    left: int
    job: Job | None = None
    order: Order | None = None
    is_firm: bool = False
    is_overdue: bool = False

    @property
    def size(self) -> int:
        return abs(self.quantity)

    @property
    def is_short(self) -> bool:
        """This job's balloons are not all there."""
        return self.job is not None and self.left < 0

    @property
    def missing(self) -> int:
        """Of what this job takes: what was missing before it is not its doing."""
        return min(-self.quantity, -self.left) if self.is_short else 0


@dataclass(frozen=True, kw_only=True)
class Timeline:
    item: Item
    shelf: int
    steps: tuple[Step, ...]

    @property
    def dips(self) -> tuple[Step, ...]:
        """The jobs that there is not enough for, the first of them first."""
        return tuple(step for step in self.steps if step.is_short)

    @property
    def left(self) -> int:
        return self.steps[-1].left if self.steps else self.shelf


def free_timeline(item: Item, *, today: date, until_on: date | None = None) -> Timeline:
    """From today on; without an end, to the last thing that is known of. Three queries.

    What is overdue stands at its own day if it is a hold, and at today if it is a delivery. On
    one day holds come before deliveries, and who was promised first comes first.
    """
    shelf = free_on(on=date.min, today=today, items=[item.pk])[item.pk].shelf
    moves = sorted([*_holds(item), *_arrivals(item, today)], key=lambda move: move[0])
    steps, left = [], shelf
    for (on, *_), quantity, said in moves:
        if until_on is None or on <= until_on:
            left += quantity
            steps.append(Step(on=on, quantity=quantity, left=left, **said))
    return Timeline(item=item, shelf=shelf, steps=tuple(steps))


Move = tuple[tuple[date, bool, object], int, dict[str, object]]


def _holds(item: Item) -> Sequence[Move]:
    holds = Hold.objects.filter(item=item, state__in=OPEN_STATES).annotate(to_take=OUTSTANDING)
    return [
        (
            (hold.needed_on, False, (hold.placed_at, hold.pk)),
            -hold.to_take,
            {"job": hold.job, "is_firm": hold.state == "firm"},
        )
        for hold in holds.filter(to_take__gt=0).select_related("job__client")
    ]


def _arrivals(item: Item, today: date) -> Sequence[Move]:
    lines = OrderLine.objects.filter(item=item, order__state=OrderState.ORDERED)
    lines = lines.annotate(to_come=STILL_TO_COME).filter(to_come__gt=0)
    return [
        (
            (max(line.order.expected_on, today), True, (line.order_id, line.pk)),
            line.to_come,
            {"order": line.order, "is_overdue": line.order.expected_on < today},
        )
        for line in lines.select_related("order__supplier")
    ]
