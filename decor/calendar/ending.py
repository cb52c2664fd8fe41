"""A job that ends early takes its visits and sessions with it, in the move's own transaction."""

from typing import Any

from decor.calendar.sessions import sessions_call_off_all
from decor.calendar.visits import visits_call_off_all
from decor.jobs.stages import ENDED_EARLY
from decor.models import StageMove


def call_off_with_the_job(*, move: StageMove, **_: Any) -> None:
    if move.to_stage in ENDED_EARLY:
        visits_call_off_all(job=move.job, now=move.moved_at)
        sessions_call_off_all(job=move.job, now=move.moved_at)
