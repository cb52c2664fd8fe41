"""Where a job is, where it may go from there, and the record of who moved it."""

from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise

from django.contrib.auth.models import User
from django.db import transaction
from django.dispatch import Signal

from decor.models import Job, StageMove
from decor.models.job import Stage

# The string of a job's life, first knot to last.
ON_THE_STRING = (
    Stage.ASKED, Stage.QUOTED, Stage.PROMISED, Stage.MADE, Stage.UP, Stage.DONE,
)  # fmt: skip
ENDED_EARLY = (Stage.LET_GO, Stage.LOST, Stage.CALLED_OFF)

ONWARD = dict(pairwise(ON_THE_STRING))
BACK = {there: here for here, there in ONWARD.items()}
# Before the promise a job can be let go by us or lost; after it, it can only be called off.
ENDS = {
    Stage.ASKED: (Stage.LET_GO, Stage.LOST),
    Stage.QUOTED: (Stage.LET_GO, Stage.LOST),
    Stage.PROMISED: (Stage.CALLED_OFF,),
    Stage.MADE: (Stage.CALLED_OFF,),
}
TAKEN_UP_AGAIN = {
    Stage.LET_GO: (Stage.ASKED, Stage.QUOTED),
    Stage.LOST: (Stage.ASKED, Stage.QUOTED),
    Stage.CALLED_OFF: (Stage.PROMISED, Stage.MADE),
}

ALREADY_THERE = "This job is already there: nothing was changed."
NO_SUCH_WAY = "A job cannot go from “{here}” to “{there}”."
SAY_WHY = "Say why, in a few words: it stays in the job's history."
MOVED_MEANWHILE = "Someone else moved this job a moment ago. Look again before you move it."
ARCHIVED = "This job is archived. Bring it back before you move it."


# Sent with `move`, a StageMove, inside the move's own transaction, so that other rooms do what a
# stage asks of them together with the move. A receiver that raises MoveRefused stops it all.
job_moved = Signal()


class MoveRefused(Exception):
    """The message is for the owner to read."""


@dataclass(frozen=True)
class Way:
    """One stage a job may go to from where it is."""

    to: Stage
    is_onward: bool
    words: str


def ways_from(stage: str) -> tuple[Way, ...]:
    """Onward first, then early ends, then back."""
    here = Stage(stage)
    onward = [Way(ONWARD[here], True, ONWARD[here].label)] if here in ONWARD else []
    ends = [Way(to, False, to.label) for to in ENDS.get(here, ())]
    back = [*TAKEN_UP_AGAIN.get(here, ()), *([BACK[here]] if here in BACK else [])]
    return (*onward, *ends, *(Way(to, False, f"Back to “{to.label}”") for to in back))


@transaction.atomic
def job_move(*, job: Job, to: str, by: User | None, reason: str, now: datetime) -> StageMove:
    """Moves a job by one step and writes it in its history, or raises MoveRefused. By hand or by
    a fact (facts.py), the reason is always said."""
    _refuse_what_cannot_be(job=job, to=Stage(to), reason=reason)
    here = job.stage
    moved = Job.objects.filter(pk=job.pk, stage=here, archived_at=None).update(stage=to)
    if not moved:
        raise MoveRefused(MOVED_MEANWHILE)
    move = StageMove.objects.create(
        job=job, from_stage=here, to_stage=to, reason=reason.strip(), moved_by=by, moved_at=now
    )
    job_moved.send(sender=Job, move=move)
    job.stage = Stage(to)
    return move


def _refuse_what_cannot_be(*, job: Job, to: Stage, reason: str) -> None:
    here = Stage(job.stage)
    if to == here:
        raise MoveRefused(ALREADY_THERE)
    if job.is_archived:
        raise MoveRefused(ARCHIVED)
    if all(way.to != to for way in ways_from(here)):
        raise MoveRefused(NO_SUCH_WAY.format(here=here.label, there=to.label))
    if not reason.strip():
        raise MoveRefused(SAY_WHY)
