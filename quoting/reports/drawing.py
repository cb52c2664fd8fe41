"""Bars by month, drawn here and not in the browser: the table beside them says the same."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from babel.numbers import format_currency

from quoting.reports.period import Month
from quoting.reports.table import Series

WIDTH, HEIGHT = 720, 320
LEFT, RIGHT, TOP, BOTTOM = 110, 8, 16, 62
MOST_LABELS = 12
STEPS = 4
FILLED = 0.76  # of the room that a month has
NICE = (1, 2, 5, 10)
CENTS = 100
# A bar of next to nothing is still seen.
LEAST_HEIGHT = 1.5


@dataclass(frozen=True, kw_only=True)
class Bar:
    x: float
    y: float
    width: float
    height: float
    look: str


@dataclass(frozen=True)
class Label:
    at: float
    text: str
    below: str = ""


@dataclass(frozen=True, kw_only=True)
class Bars:
    """In a box of `width` by `height`."""

    width: int
    height: int
    left: int
    right: int
    labels_x: int
    labels_y: int
    below_y: int
    zero_y: float
    bars: tuple[Bar, ...]
    amounts: tuple[Label, ...]
    months: tuple[Label, ...]


def bars_drawing(series: Sequence[Series], *, months: Sequence[Month], currency: str) -> Bars:
    values = [0, *(cents for one in series for cents in one.cents)]
    step = _step(max(values) - min(values))
    low, high = step * (min(values) // step), step * max(1, -(-max(values) // step))

    def y(cents: int) -> float:
        return round(TOP + (HEIGHT - TOP - BOTTOM) * (high - cents) / (high - low), 1)

    room = (WIDTH - LEFT - RIGHT) / len(months)
    return Bars(
        width=WIDTH,
        height=HEIGHT,
        left=LEFT,
        right=WIDTH - RIGHT,
        labels_x=LEFT - 10,
        labels_y=HEIGHT - BOTTOM + 26,
        below_y=HEIGHT - 10,
        zero_y=y(0),
        bars=tuple(_bars(series, room, y)),
        amounts=tuple(
            Label(y(cents), _whole(cents, currency)) for cents in range(low, high + 1, step)
        ),
        months=tuple(_month_labels(months, room)),
    )


def _bars(series: Sequence[Series], room: float, y: Callable[[int], float]) -> Iterator[Bar]:
    """Those of a month side by side; of nothing there is none."""
    width = room * FILLED / len(series)
    for n, one in enumerate(series):
        for at, cents in enumerate(one.cents):
            top, bottom = sorted((y(cents), y(0)))
            if cents:
                yield Bar(
                    x=round(LEFT + room * (at + (1 - FILLED) / 2) + n * width, 1),
                    y=top,
                    width=round(width * 0.9, 1),
                    height=max(round(bottom - top, 1), LEAST_HEIGHT),
                    look=one.look,
                )


def _month_labels(months: Sequence[Month], room: float) -> Iterator[Label]:
    """Where there are many, only so many. A year stands under its first month, but where the next
    year's would touch it."""
    every = -(-len(months) // MOST_LABELS)
    days = [month.first for month in months][::every]
    years = [day.year for day in days]
    for n, day in enumerate(days):
        is_first = n == 0 or years[n - 1] != day.year
        has_room = n + 1 == len(days) or years[n + 1] == day.year
        below = str(day.year) if is_first and has_room else ""
        yield Label(round(LEFT + room * (n * every + 0.5), 1), f"{day:%b}", below)


def _step(spread: int) -> int:
    """The smallest of 1, 2, 5, 10 ... whole units that needs no more than four steps."""
    size = CENTS
    while True:
        for nice in NICE:
            if spread <= STEPS * nice * size:
                return nice * size
        size *= 10


def _whole(cents: int, currency: str) -> str:
    """Steps are whole units, so that nothing is cut off here."""
    return format_currency(cents // CENTS, currency, "¤#,##0", "en_US", currency_digits=False)
