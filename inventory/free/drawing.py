"""The timeline as steps: where the line goes below nothing, a job is short."""

from dataclasses import dataclass
from datetime import date, timedelta

from inventory.free.timeline import Timeline

WIDTH, HEIGHT = 640, 200
LEFT, RIGHT, TOP, BOTTOM = 56, 16, 20, 30
LABEL_GAP = 8
LEAST_DAYS = 14


@dataclass(frozen=True, kw_only=True)
class Label:
    at: float
    text: str
    anchor: str = "middle"


@dataclass(frozen=True, kw_only=True)
class Drawing:
    """In a box of `width` by `height`; `line` is a path, `zero_y` is where nothing is free."""

    width: int
    height: int
    left: int
    right: int
    line: str
    zero_y: float
    heights: tuple[Label, ...]
    heights_x: int
    days: tuple[Label, ...]
    days_y: int
    dips: tuple[tuple[float, float], ...]


def timeline_drawing(timeline: Timeline, *, today: date) -> Drawing | None:
    """None where nothing is going to happen: a flat line says nothing."""
    if not timeline.steps:
        return None
    first = min(today, timeline.steps[0].on)
    last = max(first + timedelta(days=LEAST_DAYS), timeline.steps[-1].on + timedelta(days=1))
    levels = [timeline.shelf, *(step.left for step in timeline.steps), 0]
    low, high = min(levels), max(*levels, 1)

    def x(day: date) -> float:
        return round(LEFT + (WIDTH - LEFT - RIGHT) * (day - first).days / (last - first).days, 1)

    def y(level: int) -> float:
        return round(TOP + (HEIGHT - TOP - BOTTOM) * (high - level) / (high - low), 1)

    line = f"M{x(first)} {y(timeline.shelf)}"
    line += "".join(f"H{x(step.on)}V{y(step.left)}" for step in timeline.steps) + f"H{x(last)}"
    return Drawing(
        width=WIDTH,
        height=HEIGHT,
        left=LEFT,
        right=WIDTH - RIGHT,
        line=line,
        zero_y=y(0),
        heights=tuple(Label(at=y(level), text=str(level)) for level in sorted({0, low, high})),
        heights_x=LEFT - LABEL_GAP,
        days=(
            Label(at=x(first), text=_day(first), anchor="start"),
            Label(at=x(last), text=_day(last), anchor="end"),
        ),
        days_y=HEIGHT - LABEL_GAP,
        dips=tuple((x(step.on), y(step.left)) for step in timeline.dips),
    )


def _day(day: date) -> str:
    return f"{day.day} {day:%b}"
