"""When to make what is promised: backward from the installs. Needs numpy and scipy."""

from .changes import JobChange, plan_changes
from .making import Bench, MakingPlan, Overfull, Short, plan_making
from .relief import Kind, Relief, what_would_help
from .work import STEP_MINUTES, JobToMake, Session, oldest_days

__all__ = [
    "STEP_MINUTES",
    "Bench",
    "JobChange",
    "JobToMake",
    "Kind",
    "MakingPlan",
    "Overfull",
    "Relief",
    "Session",
    "Short",
    "oldest_days",
    "plan_changes",
    "plan_making",
    "what_would_help",
]
