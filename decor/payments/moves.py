"""What becomes of a job's schedule when the job ends early or is taken up again. What is kept when
it is called off, whoever calls it off sets."""

from typing import Any

from decor.models import PaymentDue, StageMove
from decor.models.job import Stage
from decor.models.payment import DueKind
from decor.payments.account import ENDED
from decor.payments.service import PlannedDue, schedule_set

ENDED_UNPROMISED = frozenset({Stage.LET_GO, Stage.LOST})


def schedule_with_the_move(*, move: StageMove, **kwargs: Any) -> None:
    dues = PaymentDue.objects.filter(job=move.job)
    if move.to_stage in ENDED_UNPROMISED and dues.filter(replaced_at=None).exists():
        schedule_set(job=move.job, dues=[], source="", now=move.moved_at)
    elif move.from_stage in ENDED and move.to_stage != Stage.ASKED:
        _agreed_before(move)


def _agreed_before(move: StageMove) -> None:
    """As it was agreed before it ended: days that have gone by since are late."""
    dues = PaymentDue.objects.filter(job=move.job)
    still_holds = dues.filter(replaced_at=None).exclude(kind=DueKind.CALLING_OFF)
    replaced = dues.filter(replaced_at__isnull=False)
    last = replaced.order_by("-replaced_at").first()
    if last is None or still_holds.exists():
        return
    agreed = [
        PlannedDue(due.kind, due.due_on, due.amount_cents, due.label)
        for due in replaced.filter(replaced_at=last.replaced_at)
    ]
    schedule_set(job=move.job, dues=agreed, source=last.source, now=move.moved_at)
