"""What becomes of a job's holds when the job moves on."""

from typing import Any

from decor.models import StageMove
from decor.models.job import Stage
from inventory.holds.needs import needs_drop
from inventory.holds.service import hold_release
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
