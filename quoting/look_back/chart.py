"""Two bars for each phase: planned above, real below. The table beside it says the same."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from decor.display import hours_text
from quoting.look_back.comparing import PhaseRow

# Units of the drawing: it is scaled to the page.
LABEL_WIDTH, BAR_WIDTH, ROW_HEIGHT, BAR_HEIGHT = 115.0, 235.0, 44.0, 14.0


@dataclass(frozen=True)
class Bars:
    """`real_width` None: nobody timed it."""

    phase: str
    y: float
    label_y: float
    planned_width: float
    planned_text: str
    real_y: float
    real_width: float | None
    real_text: str
    text_x: float


@dataclass(frozen=True)
class Chart:
    width: float
    height: float
    bar_x: float
    bar_height: float
    bars: tuple[Bars, ...]


def hours_chart(phases: Sequence[PhaseRow]) -> Chart | None:
    longest = max((max(row.planned, row.real or 0.0) for row in phases), default=0.0)
    if not longest:
        return None
    return Chart(
        width=LABEL_WIDTH + BAR_WIDTH + 80,
        height=ROW_HEIGHT * len(phases),
        bar_x=LABEL_WIDTH,
        bar_height=BAR_HEIGHT,
        bars=tuple(_bars(phases, longest)),
    )


def _bars(phases: Sequence[PhaseRow], longest: float) -> Iterator[Bars]:
    for at, row in enumerate(phases):
        top = at * ROW_HEIGHT + 5
        widest = max(row.planned, row.real or 0.0)
        yield Bars(
            phase=row.phase,
            y=top,
            label_y=top + BAR_HEIGHT + 4,
            planned_width=round(row.planned / longest * BAR_WIDTH, 1),
            planned_text=hours_text(row.planned),
            real_y=top + BAR_HEIGHT + 3,
            real_width=None if row.real is None else round(row.real / longest * BAR_WIDTH, 1),
            real_text="not timed" if row.real is None else hours_text(row.real),
            text_x=round(LABEL_WIDTH + widest / longest * BAR_WIDTH + 6, 1),
        )
