"""Run once, when the app is ready: see DecorConfig."""

from decor.calendar.ending import days_follow_the_job
from decor.calendar.ours import due_events, event_events, session_events, visit_events
from decor.calendar.sources import register
from decor.jobs.stages import job_moved


def register_our_days() -> None:
    for source in (visit_events, session_events, event_events, due_events):
        register(source)
    job_moved.connect(days_follow_the_job)
