"""What a job's move does to its days, in the move's own transaction."""

from typing import Any

from decor.calendar.moments import local_day
from decor.calendar.sessions import sessions_are_over, sessions_call_off_all
from decor.calendar.visits import visits_call_off_all
from decor.jobs.stages import ENDED_EARLY
from decor.models import StageMove
from decor.models.job import Stage


def days_follow_the_job(*, move: StageMove, **_: Any) -> None:
    """A job that ends early takes its visits and hours with it; one that is made needs no more
    hours."""
    if move.to_stage == Stage.MADE and move.from_stage == Stage.PROMISED:
        today = local_day(move.moved_at)
        sessions_are_over(job=move.job, today=today, now=move.moved_at)
    if move.to_stage in ENDED_EARLY:
        visits_call_off_all(job=move.job, now=move.moved_at)
        sessions_call_off_all(job=move.job, now=move.moved_at)
