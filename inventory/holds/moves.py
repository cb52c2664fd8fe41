"""What becomes of a job's holds when the job moves on, or its money comes in."""

from datetime import datetime
from typing import Any

from decor.models import Job, PaymentLine, StageMove
from decor.models.job import Stage
from decor.payments.account import deposit_is_in
from inventory.holds.needs import needs_drop
from inventory.holds.service import hold_firm, hold_release, hold_soften
from inventory.kit.service import kit_release

ENDED = frozenset({Stage.LET_GO, Stage.LOST, Stage.CALLED_OFF})
# Once it hangs, nothing more is needed of the shelf. Its kit is still out, until its last day.
UP = frozenset({Stage.UP, Stage.DONE})


def release_with_the_move(*, move: StageMove, **kwargs: Any) -> None:
    is_taken_back = (move.from_stage, move.to_stage) == (Stage.PROMISED, Stage.QUOTED)
    has_ended = move.to_stage in ENDED
    if has_ended or is_taken_back or move.to_stage in UP:
        hold_release(job=move.job, now=move.moved_at)
    if has_ended or is_taken_back:
        kit_release(job=move.job, now=move.moved_at)
    if has_ended:
        needs_drop(job=move.job)


def firm_with_the_money(*, line: PaymentLine, **kwargs: Any) -> None:
    """A line entered by mistake takes back what it made firm, too."""
    if line.corrects and not deposit_is_in(line.job):
        hold_soften(job=line.job, firmed_at=line.corrects.at)
    _firm_if_secured(line.job, line.at)


def firm_with_the_schedule(*, job: Job, now: datetime, **kwargs: Any) -> None:
    """What was paid before anything was agreed may be all that is asked for now."""
    _firm_if_secured(job, now)


def _firm_if_secured(job: Job, now: datetime) -> None:
    if deposit_is_in(job):
        hold_firm(job=job, now=now)
