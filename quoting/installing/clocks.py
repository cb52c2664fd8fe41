"""Clocks at the place, so that the look-back has the hours of a visit without typing."""

from datetime import datetime
from typing import Final

from decor.models import Visit
from decor.models.visit import VisitKind
from quoting.making.sheet import ShownClock, clock_shown

PHASES_AT: Final = {
    VisitKind.INSTALL: ("load and unload", "drive", "hang", "check and fill"),
    VisitKind.REVISIT: ("drive", "hang"),
    VisitKind.STRIKE: ("drive", "strike"),
}


def clocks_at(visit: Visit, *, now: datetime) -> tuple[ShownClock, ...]:
    """Its own, and of the job's others those that still run: they are stopped first."""
    times = [
        each
        for each in visit.job.work_times.all()
        if each.visit_id == visit.pk or each.stopped_at is None
    ]
    return tuple(
        clock_shown(phase, [each for each in times if each.phase == phase], now)
        for phase in PHASES_AT[visit.kind]
    )
